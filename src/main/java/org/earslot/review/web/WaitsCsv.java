package org.earslot.review.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.earslot.review.figures.GroupLine;
import org.earslot.review.figures.GroupTable;
import org.earslot.review.figures.Waits;
import org.jspecify.annotations.Nullable;

/** Where it ran over and where the wait came from, as CSV. */
final class WaitsCsv {

    private WaitsCsv() {}

    static String waits(Waits waits) {
        return CsvText.of(
                List.of("cause", "minutes", "patients"),
                waits.causes().stream()
                        .map(cause -> Arrays.<@Nullable Object>asList(cause.cause(), cause.minutes(), cause.patients()))
                        .toList());
    }

    static String costliest(Waits waits) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (Waits.CostlyVisit visit : waits.costliest()) {
            rows.add(Arrays.asList(
                    visit.visitRef(),
                    visit.date(),
                    visit.bookedStart(),
                    visit.practitioner(),
                    visit.method(),
                    visit.ears(),
                    visit.waitsCaused(),
                    visit.patients(),
                    visit.slotMinutes(),
                    visit.fourInFive(),
                    visit.inRoom(),
                    String.join(";", visit.wax()),
                    String.join(";", visit.canal()),
                    String.join(";", visit.depth())));
        }
        return CsvText.of(
                List.of(
                        "visit_id",
                        "date",
                        "booked_start",
                        "practitioner",
                        "method_planned",
                        "ears",
                        "waits_caused",
                        "patients",
                        "slot_minutes",
                        "estimated_4_in_5",
                        "time_in_room",
                        "wax",
                        "canal",
                        "depth"),
                rows);
    }

    static String groups(GroupTable table) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (GroupLine line : table.lines()) {
            rows.add(Arrays.asList(
                    line.group(),
                    String.join(";", line.pooled()),
                    line.small(),
                    line.overruns().of(),
                    line.overruns().count(),
                    line.overruns().share(),
                    line.overruns().low(),
                    line.overruns().high(),
                    line.minutesOver(),
                    line.waitsCaused(),
                    line.comparedWithTheRest().verdict().code()));
        }
        return CsvText.of(
                List.of(
                        table.by().code(),
                        "pooled",
                        "small",
                        "visits",
                        "overruns",
                        "share",
                        "low",
                        "high",
                        "minutes_over",
                        "waits_caused",
                        "compared_with_the_rest"),
                rows);
    }
}
