package org.earslot.kit.web;

import org.earslot.kit.KitLack;
import org.earslot.kit.KitLack.NoUnit;
import org.earslot.kit.KitLack.SetsShort;
import org.earslot.kit.KitLack.UnitElsewhere;
import org.earslot.page.Messages;

/** What kit is missing, in words. */
public record KitWords(Messages messages) {

    /** @param room the name of the room where it would be wanted */
    public String of(KitLack lack, String room) {
        if (lack instanceof NoUnit none) {
            return messages.say("kit.lack.NoUnit", messages.word(none.method()), room);
        }
        if (lack instanceof UnitElsewhere elsewhere) {
            return messages.say(
                    "kit.lack.UnitElsewhere",
                    elsewhere.name(),
                    elsewhere.freeFrom().toString());
        }
        SetsShort sets = (SetsShort) lack;
        return sets.cleanAgain()
                .map(clean -> messages.say(
                        "kit.lack.SetsShort", sets.kind(), sets.first().toString(), clean.toString()))
                .orElseGet(() -> messages.say(
                        "kit.lack.SetsShortForGood", sets.kind(), sets.first().toString()));
    }
}
