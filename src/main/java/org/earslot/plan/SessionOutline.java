package org.earslot.plan;

import java.util.List;
import java.util.Locale;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.policy.ListCosts;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Session;
import org.earslot.flow.plan.Costs;

/** A weekly session as a list without patients. */
final class SessionOutline {

    private SessionOutline() {}

    static DayList empty(WeeklySession weekly, PolicyTerms policy, double sharedSd) {
        TimeSpan span = weekly.span();
        Session hours = Session.between(span.from(), span.to());
        Session held = weekly.pause()
                .map(rest -> hours.withBreaks(Break.kept(rest.from(), rest.to())))
                .orElse(hours);
        return new DayList(held, List.of(), policy.earlyAllowanceMinutes(), sharedSd, null);
    }

    /** Minutes of work in it. */
    static int minutes(WeeklySession weekly) {
        return weekly.span().minutes() - weekly.pause().map(TimeSpan::minutes).orElse(0);
    }

    static Costs costs(ListCosts costs) {
        return new Costs(costs.waitMinute(), costs.idleMinute(), costs.overtimeMinute());
    }

    /** Names all that the lists of a pattern depend on. */
    static String key(WeeklySession weekly, PolicyTerms policy, ListCosts costs, String version) {
        double scale = costs.waitMinute() + costs.idleMinute() + costs.overtimeMinute();
        return String.join(
                " ",
                weekly.id().toString(),
                weekly.practitionerId().toString(),
                weekly.span().from() + "-" + weekly.span().to(),
                weekly.pause().map(rest -> rest.from() + "-" + rest.to()).orElse("-"),
                policy.toString(),
                String.format(
                        Locale.ROOT,
                        "%.4f %.4f %.4f",
                        costs.waitMinute() / scale,
                        costs.idleMinute() / scale,
                        costs.overtimeMinute() / scale),
                version);
    }
}
