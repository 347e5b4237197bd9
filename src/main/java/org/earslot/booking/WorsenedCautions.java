package org.earslot.booking;

import java.util.List;
import org.earslot.caution.Verdict;
import org.earslot.ear.Caution;
import org.earslot.page.Messages;

/**
 * A method suits worse than it did.
 *
 * @param was the verdict before, of the ear that is now judged worst
 * @param now its verdict now
 * @param cautions that make it so
 */
public record WorsenedCautions(Verdict was, Verdict now, List<Caution> cautions) {

    public WorsenedCautions {
        cautions = List.copyOf(cautions);
    }

    /** In words: the message {@code key} with the verdict before, the verdict now and the cautions. */
    public String say(Messages messages, String key) {
        return messages.say(
                key,
                messages.say("Verdict." + was.name()),
                messages.say("Verdict." + now.name()),
                messages.words(cautions));
    }
}
