package org.earslot.day;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.Consumer;
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
 * @param stoppedEarly whether and why the visit was stopped before its end
 * @param note null leaves it as it is, blank removes it
 * @param nextStep what the practitioner decides
 */
public record Findings(
        Map<Ear, EarRecord> ears,
        Entry<StoppedEarly> stoppedEarly,
        @Nullable String note,
        Entry<NextStep> nextStep) {

    /**
     * What a form says of one field.
     *
     * @param given false leaves the field as it is
     * @param word null removes what is recorded
     */
    public record Entry<W>(boolean given, @Nullable W word) {

        public static <W> Entry<W> none() {
            return new Entry<>(false, null);
        }

        void ifGiven(Consumer<@Nullable W> change) {
            if (given) {
                change.accept(word);
            }
        }
    }

    public Findings {
        ears = Map.copyOf(ears);
    }

    /** Of ears only. */
    public static Findings of(Map<Ear, EarRecord> ears) {
        return new Findings(ears, Entry.none(), null, Entry.none());
    }

    /** Of what the practitioner decides, and of ears. */
    public static Findings of(Map<Ear, EarRecord> ears, NextStep decided) {
        return new Findings(ears, Entry.none(), null, new Entry<>(true, decided));
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
                        ear.adverseEvents(),
                        new TreeSet<>(ear.cautionsFound()),
                        ear.unsuitable())
                .toString();
    }
}
