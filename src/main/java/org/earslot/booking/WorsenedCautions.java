package org.earslot.booking;

import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.caution.Suitability.Remark;
import org.earslot.caution.Verdict;
import org.earslot.ear.Caution;
import org.earslot.page.Messages;

/**
 * A method suits worse than it did.
 *
 * @param was the verdict before, of the ear that is now judged worst
 * @param now its verdict now
 * @param cautions that make it so
 * @param remarks what else makes it so, as a caution on record that is not known here
 */
public record WorsenedCautions(Verdict was, Verdict now, List<Caution> cautions, List<Remark> remarks) {

    public WorsenedCautions {
        cautions = List.copyOf(cautions);
        remarks = List.copyOf(remarks);
    }

    /** In words: the message {@code key} with the verdict before, the verdict now and what makes it so. */
    public String say(Messages messages, String key) {
        return messages.say(
                key,
                messages.say("Verdict." + was.name()),
                messages.say("Verdict." + now.name()),
                Stream.concat(
                                cautions.stream().map(messages::word),
                                remarks.stream().map(remark -> messages.say("offers.worse." + remark.name())))
                        .collect(Collectors.joining(", ")));
    }
}
