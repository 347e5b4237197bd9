package org.earslot.plan.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.policy.ListCosts;
import org.earslot.clinic.policy.ListTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.Reading;
import org.earslot.plan.SessionPlans;
import org.earslot.plan.SessionPlans.Part;

/** The plan's forms as they were typed; fields that were not sent read as what is in force. */
public record PlanForm(Map<String, String> typed, ListTerms inForce) {

    /** Every field the plan's forms have, but the session. */
    static final Set<String> FIELDS = Stream.concat(
                    Stream.of("plan", "accepted", "waitCost", "idleCost", "overtimeCost"),
                    Stream.of(Method.values())
                            .flatMap(method -> Stream.of(field(method, Ears.RIGHT), field(method, Ears.BOTH))))
            .collect(Collectors.toUnmodifiableSet());

    private static final int MOST_PERCENT = 99;

    /** What a field holds. */
    public String get(String field) {
        String given = typed.get(field);
        return given != null
                ? given
                : switch (field) {
                    case "accepted" -> String.valueOf(Math.round(100 * inForce.acceptedOvertimeShare()));
                    case "waitCost" -> plain(inForce.costs().waitMinute());
                    case "idleCost" -> plain(inForce.costs().idleMinute());
                    case "overtimeCost" -> plain(inForce.costs().overtimeMinute());
                    default -> "";
                };
    }

    /** Whether other terms than those in force were asked about. */
    boolean asksForTerms() {
        return typed.containsKey("accepted");
    }

    /** Whether a mix was given. */
    boolean asksForPlan() {
        return typed.containsKey("plan");
    }

    /** The terms as typed, or every problem in {@code reading}. */
    Optional<ListTerms> terms(Reading reading) {
        if (!asksForTerms()) {
            return Optional.of(inForce);
        }
        Optional<Integer> accepted = reading.required(
                "accepted",
                reading.whole("accepted", typed.get("accepted"), 1, MOST_PERCENT),
                "plan.allowed.accepted",
                MOST_PERCENT);
        Optional<Double> wait = cost("waitCost", reading);
        Optional<Double> idle = cost("idleCost", reading);
        Optional<Double> overtime = cost("overtimeCost", reading);
        if (reading.clean() && wait.orElse(0.0) + idle.orElse(0.0) + overtime.orElse(0.0) == 0) {
            reading.refuse("waitCost", "0", "plan.allowed.oneWeight");
        }
        return reading.clean()
                ? Optional.of(new ListTerms(
                        accepted.orElseThrow() / 100.0,
                        new ListCosts(wait.orElseThrow(), idle.orElseThrow(), overtime.orElseThrow())))
                : Optional.empty();
    }

    private Optional<Double> cost(String field, Reading reading) {

        Optional<Double> read = Optional.empty();
        try {
            read = Optional.ofNullable(typed.get(field))
                    .filter(text -> !text.isBlank())
                    .map(text -> Double.valueOf(text.strip()))
                    .filter(cost -> cost >= 0 && cost <= ListCosts.MOST);
        } catch (NumberFormatException e) {
            read = Optional.empty();
        }
        if (read.isEmpty()) {
            reading.refuse(field, typed.get(field), "plan.allowed.weight", String.valueOf(Math.round(ListCosts.MOST)));
        }
        return read;
    }

    /** The mix as typed, the empty parts left out. */
    List<Part> mix(Reading reading) {
        List<Part> parts = new ArrayList<>();
        int all = 0;
        for (Method method : Method.values()) {
            for (Ears ears : List.of(Ears.RIGHT, Ears.BOTH)) {
                String field = field(method, ears);
                int count = reading.whole(field, typed.get(field), 0, SessionPlans.MOST_VISITS)
                        .orElse(0);
                all += count;
                if (count > 0) {
                    parts.add(new Part(method, ears, count));
                }
            }
        }
        if (reading.clean() && (all == 0 || all > SessionPlans.MOST_VISITS)) {
            reading.refuse("mix", String.valueOf(all), "plan.allowed.mix", SessionPlans.MOST_VISITS);
        }
        return parts;
    }

    /** The field of a part; one ear is asked for as the right one. */
    public static String field(Method method, Ears ears) {
        return method.code() + "." + (ears == Ears.BOTH ? "both" : "one");
    }

    private static String plain(double number) {
        return number == Math.rint(number) ? String.valueOf((long) number) : String.valueOf(number);
    }
}
