package org.earslot.review.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.apache.commons.csv.CSVFormat;
import org.earslot.review.Change;
import org.earslot.review.Comparison;
import org.earslot.review.Dimension;
import org.earslot.review.GroupLine;
import org.earslot.review.GroupTable;
import org.earslot.review.HeadLine;
import org.earslot.review.Indicators;
import org.earslot.review.MonthReview;
import org.earslot.review.Promised;
import org.earslot.review.Repeats;
import org.earslot.review.RunChart;
import org.earslot.review.Share;
import org.earslot.review.Waits;
import org.jspecify.annotations.Nullable;

/** The tables of a review as CSV (RFC 4180): numbers in full, words by their codes, empty for what is not known. */
final class ReviewCsv {

    private ReviewCsv() {}

    /** The table named, or empty where there is none of that name. */
    static Optional<String> table(MonthReview review, String name) {
        return switch (name) {
            case "head" -> Optional.of(head(review.head()));
            case "promised" -> Optional.of(promised(review.promised()));
            case "waits" -> Optional.of(waits(review.waits()));
            case "costliest" -> Optional.of(costliest(review.waits()));
            case "compared" -> Optional.of(compared(review.compared()));
            case "indicators" -> Optional.of(indicators(review.indicators()));
            case "repeats" -> Optional.of(repeats(review.repeats()));
            case "weeks-overruns" -> Optional.of(weeks(review.charts().overruns()));
            case "weeks-wait" -> Optional.of(weeks(review.charts().meanWait()));
            default ->
                Arrays.stream(Dimension.values())
                        .filter(by -> by.code().equals(name))
                        .findFirst()
                        .flatMap(by -> review.where().stream()
                                .filter(table -> table.by() == by)
                                .findFirst())
                        .map(ReviewCsv::groups);
        };
    }

    private static String groups(GroupTable table) {
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
        return csv(
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

    private static String head(HeadLine head) {
        List<List<@Nullable Object>> rows = List.of(
                Arrays.asList("visits", head.visits()),
                Arrays.asList("attended_late", head.attendedLate()),
                Arrays.asList("late_not_seen", head.lateNotSeen()),
                Arrays.asList("did_not_attend", head.didNotAttend()),
                Arrays.asList("cancelled_by_patient", head.cancelledByPatient()),
                Arrays.asList("cancelled_by_clinic", head.cancelledByClinic()),
                Arrays.asList("untimed", head.untimed()),
                Arrays.asList("fit_ins", head.fitIns()),
                Arrays.asList("called_in_late", head.calledInLate().count()),
                Arrays.asList("waits_known", head.calledInLate().of()),
                Arrays.asList("mean_wait", head.meanWait()),
                Arrays.asList("overruns", head.overruns().count()),
                Arrays.asList("overruns_told", head.overruns().of()),
                Arrays.asList("planned_overruns", head.plannedOverruns()),
                Arrays.asList("planned_at_booking", head.plannedAtBooking()),
                Arrays.asList("referrals_booked", head.weeks().referrals()),
                Arrays.asList("weeks_to_appointment", head.weeks().median()),
                Arrays.asList("weeks_low", head.weeks().low()),
                Arrays.asList("weeks_high", head.weeks().high()),
                Arrays.asList("sessions", head.sessions().sessions()),
                Arrays.asList("sessions_ended_late", head.sessions().endedLate().count()),
                Arrays.asList("overtime_minutes", head.sessions().overtime()),
                Arrays.asList("idle_minutes", head.sessions().idle()),
                Arrays.asList("utilisation", head.sessions().utilisation()));
        return csv(List.of("figure", "value"), rows);
    }

    private static String promised(Promised promised) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (Promised.Line line : promised.lines()) {
            for (Promised.Kept kept : line.kept()) {
                rows.add(Arrays.asList(
                        line.method(),
                        line.ears(),
                        line.visits(),
                        line.cutShort(),
                        kept.promised(),
                        kept.share(),
                        kept.low(),
                        kept.high()));
            }
        }
        return csv(List.of("method", "ears", "visits", "cut_short", "promised", "share", "low", "high"), rows);
    }

    private static String waits(Waits waits) {
        return csv(
                List.of("cause", "minutes", "patients"),
                waits.causes().stream()
                        .map(cause -> Arrays.<@Nullable Object>asList(cause.cause(), cause.minutes(), cause.patients()))
                        .toList());
    }

    private static String costliest(Waits waits) {
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
        return csv(
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
                        "promised_4_in_5",
                        "time_in_room",
                        "wax",
                        "canal",
                        "depth"),
                rows);
    }

    private static String compared(List<Comparison> comparisons) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (Comparison with : comparisons) {
            for (Comparison.Line line : with.lines()) {
                Change change = line.change();
                rows.add(Arrays.asList(
                        with.month(),
                        line.figure(),
                        change.verdict().code(),
                        change.by(),
                        change.low(),
                        change.high()));
            }
        }
        return csv(List.of("month", "figure", "change", "by", "low", "high"), rows);
    }

    private static String indicators(Indicators indicators) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (Indicators.Line line : indicators.lines()) {
            rows.add(share(line.method(), "residual", line.residual()));
            rows.add(share(line.method(), "not_removed", line.notRemoved()));
            rows.add(share(line.method(), "stopped_early", line.stopped()));
            rows.add(share(line.method(), "adverse_event", line.harmed()));
        }
        return csv(List.of("method", "figure", "count", "of", "share", "low", "high"), rows);
    }

    private static String repeats(Repeats repeats) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        repeats.lines().forEach(line -> rows.add(share(line.method(), "seen_again", line.repeats())));
        return csv(List.of("method", "figure", "count", "of", "share", "low", "high"), rows);
    }

    private static List<@Nullable Object> share(String method, String figure, Share share) {
        return Arrays.asList(method, figure, share.count(), share.of(), share.share(), share.low(), share.high());
    }

    private static String weeks(RunChart chart) {
        return csv(
                List.of("week", "visits", "value", "low", "high", "middle"),
                chart.points().stream()
                        .map(point -> Arrays.<@Nullable Object>asList(
                                point.week(), point.of(), point.value(), point.low(), point.high(), chart.centre()))
                        .toList());
    }

    static String csv(List<String> headings, List<List<@Nullable Object>> rows) {
        CSVFormat format = CSVFormat.RFC4180;
        StringBuilder text = new StringBuilder(format.format(headings.toArray())).append("\r\n");
        for (List<@Nullable Object> row : rows) {
            text.append(format.format(row.stream().map(ReviewCsv::cell).toArray()))
                    .append("\r\n");
        }
        return text.toString();
    }

    /** A text that a spreadsheet would take for a formula is led by an apostrophe; numbers are left alone. */
    private static Object cell(@Nullable Object value) {
        if (value == null) {
            return "";
        }
        boolean formula = value instanceof String text && !text.isEmpty() && "=+-@\t\r".indexOf(text.charAt(0)) >= 0;
        return formula ? "'" + value : value;
    }
}
