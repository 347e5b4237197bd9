package org.earslot.diary;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How often each method has been tried in an ear since it was last clear. */
@Service
public class Attempts {

    /** After so many irrigations that failed another method is due, or the person is referred on (NICE NG98). */
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

    /** By ear and method, up to and with {@code last}; what was never tried is left out. */
    @Transactional(readOnly = true)
    public Map<Ear, Map<Method, Count>> of(UUID clinicId, String patientRef, LocalDate last) {
        List<Visit> seen = visits.findByClinicIdAndPatientRefOrderByDateDesc(clinicId, patientRef).stream()
                .filter(visit -> visit.wasSeen() && !visit.date().isAfter(last))
                .toList();
        Map<Ear, Map<Method, Count>> all = new EnumMap<>(Ear.class);
        for (Ear ear : Ear.values()) {
            all.put(
                    ear,
                    sinceClear(seen.stream().map(visit -> visit.recorded(ear)).toList()));
        }
        return all;
    }

    /** Whether irrigation of that ear has failed often enough. */
    public static boolean irrigationSpent(Map<Method, Count> ofEar) {
        return ofEar.getOrDefault(Method.IRRIGATION, new Count(0, 0)).failed() >= FAILED_IRRIGATIONS;
    }

    /** @param records of one ear, the latest first; an ear found clear or without wax begins anew */
    static Map<Method, Count> sinceClear(List<EarRecord> records) {
        Map<Method, Count> counts = new EnumMap<>(Method.class);
        for (EarRecord record : records) {
            if (record.outcome() == Outcome.CLEAR || record.outcome() == Outcome.NO_WAX) {
                break;
            }
            boolean failed = record.outcome() == Outcome.RESIDUAL || record.outcome() == Outcome.NOT_REMOVED;
            record.methods().forEach(method -> counts.merge(method, new Count(1, failed ? 1 : 0), Count::plus));
        }
        return counts;
    }
}
