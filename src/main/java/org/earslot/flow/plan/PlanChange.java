package org.earslot.flow.plan;

import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.run.Projection;

/**
 * What a change of a list costs it, and whom it delays by how much.
 *
 * @param after the list as it would then run
 * @param effects on the patients in both lists, in the new list's order; not on those whose visit has begun
 */
public record PlanChange(Price before, Price then, Projection after, List<Effect> effects) {

    /**
     * @param laterMinutes median call-in moves by so much, below 0: earlier
     * @param addedWaitMinutes expected, below 0: less
     */
    public record Effect(String name, double laterMinutes, double addedWaitMinutes) {}

    public PlanChange {
        effects = List.copyOf(effects);
    }

    /** What changes from {@code before} to {@code after}, both priced at {@code costs}. */
    public static PlanChange between(DayList before, DayList after, Costs costs) {
        Projection old = Projection.of(before);
        Projection then = Projection.of(after);
        List<Effect> effects = new ArrayList<>();
        for (Projection.Visit visit : then.visits()) {
            boolean begun = after.places().get(after.indexOf(visit.name())).wasCalledIn();
            old.visits().stream()
                    .filter(each -> each.name().equals(visit.name()) && !begun)
                    .forEach(each -> add(effects, each, visit));
        }
        return new PlanChange(Price.of(old, costs), Price.of(then, costs), then, effects);
    }

    private static void add(List<Effect> effects, Projection.Visit old, Projection.Visit then) {
        if (old.starts() != null && then.starts() != null) {
            double later = Clock24.minutes(then.starts().median())
                    - Clock24.minutes(old.starts().median());
            effects.add(new Effect(then.name(), later, then.waitMinutes() - old.waitMinutes()));
        }
    }

    /** Waits added to all others together, each by the chance to attend; not the wait of those new in the list. */
    public double addedWaitMinutes() {
        return effects.stream()
                .mapToDouble(each -> after.visit(each.name()).attends() * each.addedWaitMinutes())
                .sum();
    }

    /** How much likelier the session ends late. */
    public double addedPastEnd() {
        return then.pastEnd() - before.pastEnd();
    }
}
