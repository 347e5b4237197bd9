package org.earslot.day;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.flow.list.Arrivals;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

/** A list is run once for all who look, again with each press and each minute. */
class SessionProjectionsTest {

    private static final PolicyTerms POLICY =
            Policy.starting(new ClinicId(new UUID(0, 9))).terms();
    private static final ClinicSession MORNING = new ClinicSession(
            new UUID(0, 1),
            new UUID(0, 2),
            new UUID(0, 3),
            LocalDate.of(2026, 3, 3),
            new TimeSpan(LocalTime.of(9, 0), LocalTime.of(12, 30)),
            Optional.empty());

    private final SessionProjections runs = new SessionProjections();

    @Test
    void two_screens_in_one_minute_share_one_run() {
        SessionProjection first = runs.of(MORNING, visits("A", "A", null), POLICY, LocalTime.of(9, 30, 5));
        SessionProjection second = runs.of(MORNING, visits("A", "A", null), POLICY, LocalTime.of(9, 30, 48));
        assertThat(second).isSameAs(first);
        assertThat(first).isEqualTo(SessionProjector.of(MORNING, visits("A", "A", null), POLICY, LocalTime.of(9, 30)));
    }

    @Test
    void a_press_and_a_new_minute_run_the_list_again() {
        SessionProjection before = runs.of(MORNING, visits("A", "A", null), POLICY, LocalTime.of(9, 30, 5));
        LocalTime press = LocalTime.of(9, 30, 20);
        SessionProjection pressed = runs.of(MORNING, visits("A", "A", press), POLICY, LocalTime.of(9, 30, 48));
        assertThat(pressed).isNotEqualTo(before);
        assertThat(pressed).isEqualTo(SessionProjector.of(MORNING, visits("A", "A", press), POLICY, press));
        assertThat(runs.of(MORNING, visits("A", "A", press), POLICY, LocalTime.of(9, 31)))
                .isNotEqualTo(pressed);
    }

    @Test
    void in_two_rooms_nobody_waits_for_the_turnaround_of_the_other() {
        SessionProjection one = runs.of(MORNING, visits("A", "A", null), POLICY, null);
        SessionProjection two = runs.of(MORNING, visits("A", "B", null), POLICY, null);
        assertThat(two.totalWait()).isLessThan(one.totalWait() - 5);
        assertThat(two.pastEnd()).isLessThan(one.pastEnd());
    }

    @Test
    void holds_no_more_runs_than_its_size() {
        int asked = SessionProjections.MAXIMUM_SIZE + 100;
        List<SessionProjection> first = minutes(asked);
        List<SessionProjection> second = minutes(asked);
        long known = IntStream.range(0, asked)
                .filter(i -> first.get(i) == second.get(i))
                .count();
        assertThat(known).isBetween(1L, (long) SessionProjections.MAXIMUM_SIZE);
    }

    /** An empty list, looked at in each of so many minutes. */
    private List<SessionProjection> minutes(int count) {
        return IntStream.range(0, count)
                .mapToObj(i ->
                        runs.of(MORNING, List.of(), POLICY, LocalTime.of(0, 0).plusMinutes(i)))
                .toList();
    }

    /** Eight visits, the rooms in turn; the first called in at {@code calledIn}. */
    private static List<ListedVisit> visits(String room, String next, LocalTime calledIn) {
        List<ListedVisit> visits = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            LocalTime start = LocalTime.of(9, 0).plusMinutes(25L * i);
            LocalTime pressed = i == 0 ? calledIn : null;
            visits.add(new ListedVisit(
                    new UUID(1, i),
                    start,
                    start,
                    25,
                    LogNormalMinutes.ofMoments(20, 7),
                    5,
                    0.1,
                    i % 2 == 0 ? room : next,
                    true,
                    new LocalClock(pressed, pressed, null, null),
                    new AttendanceProbability(0.05, Arrivals.EARLY)));
        }
        return visits;
    }
}
