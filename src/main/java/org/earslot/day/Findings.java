package org.earslot.day;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import org.earslot.ear.Ear;
import org.earslot.ear.NextStep;
import org.earslot.ear.StoppedEarly;
import org.earslot.page.FormVersion;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
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

    /** The version of what is recorded of a visit, as a form that shows it carries it; a time of the clock changes none. */
    public static FormVersion version(Optional<Visit> visit) {
        return FormVersion.ofText(visit.map(Findings::recorded).orElse(""));
    }

    private static String recorded(Visit visit) {
        return recorded(visit.recorded(Ear.RIGHT))
                + recorded(visit.recorded(Ear.LEFT))
                + List.of(visit.stoppedEarly(), visit.nextStep(), visit.note());
    }

    private static String recorded(EarRecord ear) {
        return Arrays.asList(
                        ear.methods(),
                        ear.found(),
                        ear.outcome(),
                        ear.adverseEvent(),
                        new TreeSet<>(ear.cautionsFound()),
                        ear.unsuitable())
                .toString();
    }
}
