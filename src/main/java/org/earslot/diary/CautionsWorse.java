package org.earslot.diary;

import java.util.List;
import org.earslot.ear.Caution;
import org.earslot.referral.Verdict;

/**
 * A method suits worse than it did.
 *
 * @param was the verdict before, of the ear that is now judged worst
 * @param now its verdict now
 * @param cautions that make it so
 */
public record CautionsWorse(Verdict was, Verdict now, List<Caution> cautions) {

    public CautionsWorse {
        cautions = List.copyOf(cautions);
    }
}
