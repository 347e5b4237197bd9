package org.earslot.review.figures;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Where the minutes of wait came from: every minute is attributed to one source, and the sources sum to the waits.
 *
 * @param minutes all minutes of wait together
 * @param causes the causes with any minutes, the most first
 * @param costliest the visits that made others wait most, the most first; at most ten
 * @param listsLeftOut lists whose times cannot be put in order on the clock, as where the clocks change within them
 */
public record Waits(double minutes, List<CauseLine> causes, List<CostlyVisit> costliest, int listsLeftOut) {

    static final int SHOWN = 10;

    /** @param patients who waited because of it */
    public record CauseLine(String cause, double minutes, int patients) {}

    /** In their orders, and no more than are shown. */
    static Waits of(double minutes, Collection<CauseLine> causes, Collection<CostlyVisit> costly, int listsLeftOut) {
        return new Waits(
                minutes,
                causes.stream()
                        .sorted(Comparator.comparingDouble(CauseLine::minutes)
                                .reversed()
                                .thenComparing(CauseLine::cause))
                        .toList(),
                costly.stream()
                        .sorted(Comparator.comparingDouble(CostlyVisit::waitsCaused)
                                .reversed()
                                .thenComparing(CostlyVisit::visitRef))
                        .limit(SHOWN)
                        .toList(),
                listsLeftOut);
    }

    /**
     * A visit that made others wait.
     *
     * @param fourInFive the minutes within which 4 in 5 were estimated to be out; null without an estimate
     */
    public record CostlyVisit(
            String visitRef,
            LocalDate date,
            @Nullable LocalTime bookedStart,
            String practitioner,
            String method,
            String ears,
            double waitsCaused,
            int patients,
            @Nullable Integer slotMinutes,
            double inRoom,
            @Nullable Double fourInFive,
            List<String> wax,
            List<String> canal,
            List<String> depth) {}

    /** The shares by visit, for the tables of groups; only what a visit's own length caused. */
    public record Shared(Waits waits, Map<UUID, Double> byVisit) {}
}
