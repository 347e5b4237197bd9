package org.earslot.diary;

import java.util.Map;
import org.earslot.ear.Ear;
import org.earslot.ear.NextStep;
import org.earslot.ear.StoppedEarly;
import org.earslot.visit.EarRecord;
import org.jspecify.annotations.Nullable;

/**
 * What was found and done at a visit.
 *
 * @param ears each ear that is recorded; the others stay as they are
 * @param stoppedEarly null leaves it as it is
 * @param note null leaves it as it is, blank removes it
 * @param nextStep what the practitioner decides; null leaves it as it is
 */
public record Findings(
        Map<Ear, EarRecord> ears,
        @Nullable StoppedEarly stoppedEarly,
        @Nullable String note,
        @Nullable NextStep nextStep) {

    public Findings {
        ears = Map.copyOf(ears);
    }
}
