package org.earslot.aftercare;

import java.time.LocalDate;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Outcome;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * How often each method has been tried in an ear since it was last clear. Guidance counts attempts and not visits: a patient
 * who is called in again after water was instilled has had two. Wax left behind is no failed attempt by itself; it is one if
 * the practitioner lets the patient come again or refers on.
 */
@Service
public class Attempts {

    /** After this many failed irrigations the patient is referred on, or another method is used if protocol allows (NICE NG98). */
    public static final int FAILED_IRRIGATIONS = 2;

    private final Visits visits;

    Attempts(Visits visits) {
        this.visits = visits;
    }

    /**
     * How often a method was tried, and failed.
     *
     * @param failed at most {@code tried}
     */
    public record Count(int tried, int failed) {

        private Count plus(Count other) {
            return new Count(tried + other.tried, failed + other.failed);
        }
    }

    /** One ear at one visit. */
    record Tried(
            EarRecord ear, boolean calledInAgain, @Nullable NextStep decided) {

        private static Tried at(Visit visit, Ear ear) {
            return new Tried(
                    visit.recorded(ear), visit.calledInAgain(), visit.nextStep().orElse(null));
        }

        /** Clear, nothing to remove, or enough is out: counting starts again. */
        private boolean settled() {
            return ear.outcome() == Outcome.CLEAR
                    || ear.outcome() == Outcome.NO_WAX
                    || ear.outcome() == Outcome.RESIDUAL && decided == NextStep.ENOUGH;
        }

        private boolean failed() {
            return ear.outcome() == Outcome.NOT_REMOVED || ear.outcome() == Outcome.RESIDUAL && decided != null;
        }

        /** An attempt that was followed by another by the same method at the same visit has failed. */
        private Count count(Method method) {
            int listed = Collections.frequency(ear.methods(), method);
            int tried = method == Method.IRRIGATION && calledInAgain ? Math.max(2, listed) : listed;
            return new Count(tried, failed() ? tried : tried - 1);
        }
    }

    /** By ear and method, up to and with {@code last}; what was never tried is left out. */
    @Transactional(readOnly = true)
    public Map<Ear, Map<Method, Count>> of(ClinicId clinicId, String patientRef, LocalDate last) {
        List<Visit> seen = visits.findByClinicIdAndPatientRefOrderByDateDesc(clinicId, patientRef).stream()
                .filter(visit -> visit.wasSeen() && !visit.date().isAfter(last))
                .toList();
        Map<Ear, Map<Method, Count>> all = new EnumMap<>(Ear.class);
        for (Ear ear : Ear.values()) {
            all.put(
                    ear,
                    sinceClear(seen.stream().map(visit -> Tried.at(visit, ear)).toList()));
        }
        return all;
    }

    /** Whether irrigation of that ear has failed often enough. */
    public static boolean irrigationSpent(Map<Method, Count> ofEar) {
        return ofEar.getOrDefault(Method.IRRIGATION, new Count(0, 0)).failed() >= FAILED_IRRIGATIONS;
    }

    /** @param visits of one ear, the latest first */
    static Map<Method, Count> sinceClear(List<Tried> visits) {
        Map<Method, Count> counts = new EnumMap<>(Method.class);
        for (Tried visit : visits) {
            if (visit.settled()) {
                break;
            }
            visit.ear().methods().stream()
                    .distinct()
                    .forEach(method -> counts.merge(method, visit.count(method), Count::plus));
        }
        return counts;
    }
}
