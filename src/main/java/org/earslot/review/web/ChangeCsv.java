package org.earslot.review.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.earslot.review.advice.QuestionLine;
import org.earslot.review.advice.ReferrerLine;
import org.earslot.review.advice.ReplayEffect;
import org.earslot.review.advice.SlotLine;
import org.earslot.review.advice.TurnaroundLine;
import org.earslot.review.advice.WhatToChange;
import org.jspecify.annotations.Nullable;

/** The tables of what to change as CSV, as those of the review. */
final class ChangeCsv {

    private ChangeCsv() {}

    /** The table named, or empty where there is none of that name. */
    static Optional<String> table(WhatToChange change, String name) {
        return switch (name) {
            case "slots" -> Optional.of(slots(change));
            case "no-longer-fit" -> Optional.of(unfit(change));
            case "questions" -> Optional.of(questions(change));
            case "referrers" -> Optional.of(referrers(change));
            case "turnarounds" -> Optional.of(turnarounds(change));
            default -> Optional.empty();
        };
    }

    private static String slots(WhatToChange change) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (SlotLine line : change.slots()) {
            List<@Nullable Object> row = new ArrayList<>(Arrays.asList(
                    line.method(),
                    line.ears(),
                    line.longer().of(),
                    line.longer().count(),
                    line.longer().share(),
                    line.longer().low(),
                    line.longer().high(),
                    change.acceptedOverruns(),
                    line.slot(),
                    line.beyond(),
                    line.advised(),
                    line.beyondAdvised(),
                    line.verdict().code(),
                    String.join(";", line.rose())));
            row.addAll(effect(line.effect()));
            rows.add(row);
        }
        if (change.together() != null) {
            List<@Nullable Object> row = new ArrayList<>();
            row.add("together");
            for (int i = 1; i < 14; i++) {
                row.add(null);
            }
            row.addAll(effect(change.together()));
            rows.add(row);
        }
        return CsvText.of(
                List.of(
                        "method",
                        "ears",
                        "visits",
                        "longer_than_slot",
                        "share",
                        "low",
                        "high",
                        "accepted",
                        "slot_minutes",
                        "beyond_estimate",
                        "slot_advised",
                        "beyond_advised",
                        "verdict",
                        "against_shorter",
                        "wait_minutes_now",
                        "wait_minutes_then",
                        "late_now",
                        "late_then",
                        "overtime_now",
                        "overtime_then",
                        "idle_now",
                        "idle_then",
                        "no_longer_fit",
                        "room_for_more"),
                rows);
    }

    private static List<@Nullable Object> effect(@Nullable ReplayEffect effect) {
        return effect == null
                ? Arrays.asList(new @Nullable Object[10])
                : Arrays.asList(
                        effect.now().waitMinutes(),
                        effect.then().waitMinutes(),
                        effect.now().late(),
                        effect.then().late(),
                        effect.now().overtimeMinutes(),
                        effect.then().overtimeMinutes(),
                        effect.now().idleMinutes(),
                        effect.then().idleMinutes(),
                        effect.noLongerFit().size(),
                        effect.roomForMore());
    }

    private static String unfit(WhatToChange change) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (SlotLine line : change.advised()) {
            if (line.effect() != null) {
                for (ReplayEffect.Unfit visit : line.effect().noLongerFit()) {
                    rows.add(Arrays.asList(
                            line.kind(),
                            visit.visitRef(),
                            visit.date(),
                            visit.bookedStart(),
                            visit.practitioner(),
                            visit.method(),
                            visit.ears()));
                }
            }
        }
        return CsvText.of(
                List.of("changed", "visit_id", "date", "booked_start", "practitioner", "method_planned", "ears"), rows);
    }

    private static String turnarounds(WhatToChange change) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (TurnaroundLine line : change.turnarounds()) {
            rows.add(Arrays.asList(
                    line.method().code(),
                    "",
                    line.visits(),
                    line.found(),
                    line.margin(),
                    line.policyMinutes(),
                    line.differs()));
            line.practitioners()
                    .forEach(by -> rows.add(Arrays.asList(
                            line.method().code(),
                            by.practitioner(),
                            by.visits(),
                            by.found(),
                            "",
                            line.policyMinutes(),
                            "")));
        }
        return CsvText.of(
                List.of("method", "practitioner", "visits", "found_minutes", "margin", "policy_minutes", "differs"),
                rows);
    }

    private static String questions(WhatToChange change) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (QuestionLine line : change.questions().lines()) {
            rows.add(Arrays.asList(
                    line.finding(),
                    line.whoCanAnswer(),
                    change.questions().sampled(),
                    line.notKnown(),
                    line.minutesEach(),
                    line.minutesAll()));
        }
        return CsvText.of(
                List.of("finding", "who_can_answer", "visits_sampled", "not_known", "minutes_each", "minutes_all"),
                rows);
    }

    private static String referrers(WhatToChange change) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        for (ReferrerLine line : change.referrers()) {
            rows.add(Arrays.asList(
                    line.referrer(),
                    line.asReported().of(),
                    line.asReported().count(),
                    line.asReported().share(),
                    line.asReported().low(),
                    line.asReported().high(),
                    line.usual(),
                    line.likely(),
                    line.word().code()));
        }
        return CsvText.of(
                List.of(
                        "referrer",
                        "reports",
                        "as_reported",
                        "share",
                        "low",
                        "high",
                        "usual",
                        "likely",
                        "against_usual"),
                rows);
    }
}
