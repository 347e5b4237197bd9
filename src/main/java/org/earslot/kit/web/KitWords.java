package org.earslot.kit.web;

import org.earslot.booking.web.DiaryWords;
import org.earslot.kit.KitLack;
import org.earslot.kit.KitLack.NoUnit;
import org.earslot.kit.KitLack.SetsShort;
import org.earslot.kit.KitLack.UnitElsewhere;
import org.springframework.stereotype.Component;

/** What kit is missing, in words. */
@Component
public class KitWords {

    private final DiaryWords words;

    KitWords(DiaryWords words) {
        this.words = words;
    }

    /** @param room the name of the room where it would be wanted */
    public String of(KitLack lack, String room) {
        if (lack instanceof NoUnit none) {
            return words.say(
                    "kit.lack.NoUnit", words.say("Method." + none.method().code()), room);
        }
        if (lack instanceof UnitElsewhere elsewhere) {
            return words.say(
                    "kit.lack.UnitElsewhere",
                    elsewhere.name(),
                    elsewhere.freeFrom().toString());
        }
        SetsShort sets = (SetsShort) lack;
        return sets.cleanAgain()
                .map(clean -> words.say(
                        "kit.lack.SetsShort", sets.kind(), sets.first().toString(), clean.toString()))
                .orElseGet(() -> words.say(
                        "kit.lack.SetsShortForGood", sets.kind(), sets.first().toString()));
    }
}
