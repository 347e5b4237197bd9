package org.earslot.review.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.earslot.review.figures.Change;
import org.earslot.review.figures.Comparison;
import org.earslot.review.figures.Dimension;
import org.earslot.review.figures.HeadLine;
import org.earslot.review.figures.Indicators;
import org.earslot.review.figures.Milestone;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Repeats;
import org.earslot.review.figures.RunChart;
import org.earslot.review.figures.Share;
import org.jspecify.annotations.Nullable;

/** The tables of a review as CSV (RFC 4180): numbers in full, words by their codes, empty for what is not known. */
final class ReviewCsv {

    private ReviewCsv() {}

    /** The table named, or empty where there is none of that name. */
    static Optional<String> table(MonthReview review, String name) {
        return switch (name) {
            case "head" -> Optional.of(head(review.head()));
            case "estimated" -> Optional.of(EstimatesCsv.estimated(review.estimated()));
            case "waits" -> Optional.of(WaitsCsv.waits(review.waits()));
            case "costliest" -> Optional.of(WaitsCsv.costliest(review.waits()));
            case "compared" -> Optional.of(compared(review.compared()));
            case "indicators" -> Optional.of(indicators(review.indicators()));
            case "repeats" -> Optional.of(repeats(review.repeats()));
            case "estimated-months" ->
                Optional.of(EstimatesCsv.spans(review.overTime().months()));
            case "estimated-quarters" ->
                Optional.of(EstimatesCsv.spans(review.overTime().quarters()));
            case "tenths" -> Optional.of(EstimatesCsv.tenths(review.overTime()));
            case "reported" -> Optional.of(EstimatesCsv.reported(review.reported()));
            case "milestones" -> Optional.of(milestones(review.charts().milestones()));
            case "weeks-overruns" -> Optional.of(weeks(review.charts().overruns()));
            case "weeks-wait" -> Optional.of(weeks(review.charts().meanWait()));
            default ->
                Arrays.stream(Dimension.values())
                        .filter(by -> by.code().equals(name))
                        .findFirst()
                        .flatMap(by -> review.where().stream()
                                .filter(table -> table.by() == by)
                                .findFirst())
                        .map(WaitsCsv::groups);
        };
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
        return CsvText.of(List.of("figure", "value"), rows);
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
        return CsvText.of(List.of("month", "figure", "change", "by", "low", "high"), rows);
    }

    private static String indicators(Indicators indicators) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (Indicators.Line line : indicators.lines()) {
            rows.add(share(line.method(), "residual", line.residual()));
            rows.add(share(line.method(), "not_removed", line.notRemoved()));
            rows.add(share(line.method(), "stopped_early", line.stopped()));
            rows.add(share(line.method(), "adverse_event", line.harmed()));
        }
        return CsvText.of(List.of("method", "figure", "count", "of", "share", "low", "high"), rows);
    }

    private static String repeats(Repeats repeats) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        repeats.lines().forEach(line -> rows.add(share(line.method(), "seen_again", line.repeats())));
        return CsvText.of(List.of("method", "figure", "count", "of", "share", "low", "high"), rows);
    }

    private static String milestones(List<Milestone> milestones) {
        return CsvText.of(
                List.of("day", "kind", "what", "before", "after"),
                milestones.stream()
                        .map(one -> Arrays.<@Nullable Object>asList(
                                one.on(), one.kind(), one.what(), one.before(), one.after()))
                        .toList());
    }

    private static List<@Nullable Object> share(String method, String figure, Share share) {
        return Arrays.asList(method, figure, share.count(), share.of(), share.share(), share.low(), share.high());
    }

    private static String weeks(RunChart chart) {
        return CsvText.of(
                List.of("week", "visits", "value", "low", "high", "middle"),
                chart.points().stream()
                        .map(point -> Arrays.<@Nullable Object>asList(
                                point.week(), point.of(), point.value(), point.low(), point.high(), chart.centre()))
                        .toList());
    }
}
