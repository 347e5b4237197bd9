package org.earslot.booking;

import java.util.List;
import org.earslot.caution.Verdict;
import org.earslot.ear.Caution;

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
}
