package org.earslot.offers;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.Policy;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Session;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.OpenList;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

class SessionPlanCacheTest {

    private static final LocalTime NINE = LocalTime.of(9, 0);
    private static final LocalTime TWELVE = LocalTime.of(12, 0);
    private static final Costs COSTS = new Costs(1, 1, 1.5);
    private static final OpenList PLAN = OpenList.of(
            DayList.planned(Session.between(NINE, TWELVE), List.of()),
            new Mix(List.of(
                    new Mix.Kind("usual", LogNormalMinutes.ofMoments(20, 7), LogNormalMinutes.ofMoments(3, 1), 1))),
            1,
            COSTS,
            5);

    private final SessionPlanCache cache = new SessionPlanCache();
    private int made;

    @Test
    void a_plan_is_made_again_when_something_it_depends_on_has_changed() {
        ask(0, "habits of May");
        ask(0, "habits of May");
        assertThat(made).isOne();
        ask(0, "habits of June");
        assertThat(made).isEqualTo(2);
        ask(0, "habits of May");
        assertThat(made).isEqualTo(3);
    }

    @Test
    void holds_no_more_sessions_than_its_size() {
        int asked = SessionPlanCache.MAXIMUM_SIZE + 200;
        for (int day = 0; day < asked; day++) {
            ask(day, "habits");
        }
        made = 0;
        for (int day = 0; day < asked; day++) {
            ask(day, "habits");
        }
        assertThat(made).isGreaterThanOrEqualTo(200).isLessThan(asked);
    }

    private void ask(int day, String habits) {
        ClinicSession session = new ClinicSession(
                new UUID(0, 1),
                new UUID(0, 2),
                new UUID(0, 3),
                LocalDate.of(2026, 3, 3).plusDays(day),
                new TimeSpan(NINE, TWELVE),
                Optional.empty());
        SessionPlanCache.Content content = new SessionPlanCache.Content(
                session,
                List.of(),
                List.of(),
                Policy.starting(new ClinicId(new UUID(0, 9))).terms(),
                COSTS,
                habits,
                Set.of(),
                ZoneOffset.UTC,
                0.1);
        cache.of(content, () -> {
            made++;
            return PLAN;
        });
    }
}
