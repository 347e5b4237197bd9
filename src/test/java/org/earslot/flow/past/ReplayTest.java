package org.earslot.flow.past;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Session;
import org.earslot.flow.past.Replay.Held;
import org.earslot.flow.past.Replay.Outcome;
import org.earslot.flow.past.Replay.Seen;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ReplayTest {

    private static final LocalTime NINE = LocalTime.of(9, 0);
    private static final Session TWO_HOURS = Session.between(NINE, LocalTime.of(11, 0));

    private static LocalTime at(int minutesPastNine) {
        return NINE.plusMinutes(minutesPastNine);
    }

    private static Held visit(String name, int booked, int slot, int arrived, int called, int ready) {
        return new Held(new RealisedVisit(name, at(booked), at(arrived), at(called), at(ready)), slot);
    }

    private static List<Double> waits(Outcome outcome) {
        return outcome.seen().stream().map(Seen::waitMinutes).toList();
    }

    /** Everyone's slot as it was, but for these. */
    private static Outcome with(Session session, List<Held> held, Map<String, Integer> others) {
        Map<String, Integer> slots = new HashMap<>();
        held.forEach(place -> slots.put(place.visit().name(), place.slotMinutes()));
        slots.putAll(others);
        return Replay.of(session, held).with(slots::get);
    }

    /** A day out of this seed: holes, breaks, fit-ins, early and late patients, calls before the room was ready. */
    private static Day invented(long seed) {
        Random random = new Random(seed);
        int from = random.nextInt(10);
        int length = 90 + random.nextInt(200);
        Session session = Session.between(at(from), at(from + length));
        if (random.nextBoolean()) {
            int rest = from + 30 + random.nextInt(30);
            session = session.withBreaks(new Break(at(rest), at(rest + 5 + random.nextInt(20)), 0));
        }
        List<Held> held = new ArrayList<>();
        int booked = from + random.nextInt(3) * 5;
        int ready = from + random.nextInt(10);
        for (int i = 0; i < 2 + random.nextInt(12); i++) {
            int slot = 5 * (2 + random.nextInt(6));
            if (random.nextInt(6) == 0) {
                held.add(new Held(RealisedVisit.absent("v" + i, at(booked)), slot));
            } else {
                boolean fitIn = random.nextInt(8) == 0;
                int arrived = booked - 15 + random.nextInt(30);
                int called = Math.max(0, Math.max(ready - random.nextInt(5), arrived - random.nextInt(2)))
                        + random.nextInt(8);
                boolean known = fitIn || random.nextInt(5) > 0;
                ready = called + 5 + random.nextInt(40);
                held.add(new Held(
                        new RealisedVisit(
                                "v" + i,
                                fitIn ? null : at(booked),
                                known ? at(arrived) : null,
                                at(called).plusSeconds(random.nextInt(60)),
                                at(ready + 1).plusSeconds(random.nextInt(60))),
                        slot));
            }
            booked += slot - (random.nextInt(10) == 0 ? 5 : 0) + (random.nextInt(4) == 0 ? 10 : 0);
        }
        return new Day(session, held);
    }

    private record Day(Session session, List<Held> held) {}

    @ParameterizedTest
    @ValueSource(longs = {1, 20_001})
    void a_day_replayed_without_change_gives_back_every_wait(long firstSeed) {
        for (long seed = firstSeed; seed < firstSeed + 5_000; seed++) {
            Day day = invented(seed);
            Outcome outcome = Replay.of(day.session(), day.held()).asItWas();
            Map<String, Double> waits = new HashMap<>();
            outcome.seen().forEach(seen -> waits.put(seen.name(), seen.waitMinutes()));
            long ready = 0;
            int seen = 0;
            for (Held place : day.held()) {
                RealisedVisit visit = place.visit();
                if (visit.calledIn() == null) {
                    assertThat(waits).doesNotContainKey(visit.name());
                    continue;
                }
                seen++;
                assertThat(waits.get(visit.name())).as("seed %d", seed).isEqualTo(wait(visit));
                ready = Math.max(ready, visit.roomReady().toSecondOfDay());
            }
            assertThat(waits).hasSize(seen);
            assertThat(outcome.noLongerFit()).as("seed %d", seed).isEmpty();
            assertThat(outcome.overtimeMinutes())
                    .isEqualTo(Math.max(0, ready - day.session().to().toSecondOfDay()) / 60.0);
            if (seed % 100 == 0) {
                assertThat(outcome.idleMinutes()).isEqualTo(idle(day) / 60.0);
            }
        }
    }

    /** By the definition: called in minus the later of booked start and arrival. */
    private static double wait(RealisedVisit visit) {
        int from = later(visit.booked(), visit.arrived());
        return Math.max(0, visit.calledIn().toSecondOfDay() - from) / 60.0;
    }

    private static int later(@Nullable LocalTime one, @Nullable LocalTime other) {
        return Math.max(one == null ? 0 : one.toSecondOfDay(), other == null ? 0 : other.toSecondOfDay());
    }

    /** Counted second by second. */
    private static long idle(Day day) {
        long idle = 0;
        int to = day.session().to().toSecondOfDay();
        for (int second = day.session().from().toSecondOfDay(); second < to; second++) {
            int now = second;
            boolean rest = day.session().breaks().stream()
                    .anyMatch(each -> each.from().toSecondOfDay() <= now
                            && now < each.to().toSecondOfDay());
            boolean busy = day.held().stream()
                    .map(Held::visit)
                    .anyMatch(visit -> visit.calledIn() != null
                            && visit.calledIn().toSecondOfDay() <= now
                            && now < visit.roomReady().toSecondOfDay());
            idle += rest || busy ? 0 : 1;
        }
        return idle;
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 30_001})
    void keeps_each_visits_length_and_the_order_whatever_the_slots(long firstSeed) {
        for (long seed = firstSeed; seed < firstSeed + 1_000; seed++) {
            Day day = invented(seed);
            Random random = new Random(-seed);
            Map<String, Integer> others = new HashMap<>();
            day.held().forEach(place -> others.put(place.visit().name(), 5 * (1 + random.nextInt(9))));
            Outcome outcome = with(day.session(), day.held(), others);
            Outcome before = Replay.of(day.session(), day.held()).asItWas();
            List<String> kept = before.seen().stream()
                    .map(Seen::name)
                    .filter(name -> !outcome.noLongerFit().contains(name))
                    .toList();
            assertThat(outcome.seen().stream().map(Seen::name).toList()).isEqualTo(kept);
            assertThat(outcome.seen()).allMatch(seen -> seen.waitMinutes() >= 0);
            assertThat(outcome.idleMinutes()).isNotNegative();
        }
    }

    @Test
    void longer_slots_let_the_later_patients_come_later_and_wait_less() {
        // a and b take 26 of their 20 minutes: b waits 6, c waits 12, ready at 72 of a slot to 60.
        List<Held> held =
                List.of(visit("a", 0, 20, 0, 0, 26), visit("b", 20, 20, 15, 26, 52), visit("c", 40, 20, 40, 52, 72));
        Outcome before = Replay.of(TWO_HOURS, held).asItWas();
        assertThat(waits(before)).containsExactly(0.0, 6.0, 12.0);
        // With 25 each b is booked at 25 and called at 26, c at 50 and called at 52; the day ends as it did.
        Outcome longer = with(TWO_HOURS, held, Map.of("a", 25, "b", 25));
        assertThat(waits(longer)).containsExactly(0.0, 1.0, 2.0);
        assertThat(longer.seen().get(2).calledIn()).isEqualTo(9 * 60 + 52);
        assertThat(longer.noLongerFit()).isEmpty();
        assertThat(longer.idleMinutes()).isEqualTo(before.idleMinutes());
    }

    @Test
    void shorter_slots_move_the_later_starts_forward_and_free_the_end() {
        // Each takes 10 of its 20 minutes: 10 idle after each; with 15 the starts are 0, 15, 30.
        List<Held> held =
                List.of(visit("a", 0, 20, 0, 0, 10), visit("b", 20, 20, 20, 20, 30), visit("c", 40, 20, 40, 40, 50));
        Outcome shorter = with(TWO_HOURS, held, Map.of("a", 15, "b", 15, "c", 15));
        assertThat(shorter.seen().get(2).calledIn()).isEqualTo(9 * 60 + 30);
        assertThat(waits(shorter)).containsExactly(0.0, 0.0, 0.0);
        assertThat(Replay.of(TWO_HOURS, held).asItWas().freeMinutes()).containsExactly(60.0);
        assertThat(shorter.freeMinutes()).containsExactly(75.0);
        assertThat(shorter.idleMinutes()).isEqualTo(90);
    }

    @Test
    void a_hole_is_used_up_before_a_start_is_moved_back() {
        List<Held> held =
                List.of(visit("a", 0, 20, 0, 0, 20), visit("b", 30, 20, 30, 30, 50), visit("c", 50, 20, 50, 50, 70));
        Outcome longer = with(TWO_HOURS, held, Map.of("a", 35));
        // 15 more, 10 of them in the hole.
        assertThat(longer.seen().stream().map(Seen::calledIn).toList()).containsExactly(540.0, 575.0, 595.0);
    }

    @Test
    void says_who_would_no_longer_fit_and_runs_the_list_without_them() {
        Session hour = Session.between(NINE, LocalTime.of(10, 0));
        List<Held> held =
                List.of(visit("a", 0, 20, 0, 0, 30), visit("b", 20, 20, 20, 30, 50), visit("c", 40, 20, 40, 50, 70));
        Outcome before = Replay.of(hour, held).asItWas();
        assertThat(before.overtimeMinutes()).isEqualTo(10);
        Outcome longer = with(hour, held, Map.of("a", 30));
        assertThat(longer.noLongerFit()).containsExactly("c");
        assertThat(longer.overtimeMinutes()).isZero();
        assertThat(waits(longer)).containsExactly(0.0, 0.0);
        assertThat(longer.freeMinutes()).containsExactly(10.0);
    }

    @Test
    void a_shorter_one_has_the_place_of_one_that_no_longer_fits() {
        Session hour = Session.between(NINE, LocalTime.of(10, 0));
        List<Held> held =
                List.of(visit("a", 0, 20, 0, 0, 20), visit("b", 20, 30, 20, 20, 50), visit("c", 50, 10, 50, 50, 60));
        Outcome longer = with(hour, held, Map.of("a", 35));
        assertThat(longer.noLongerFit()).containsExactly("b");
        assertThat(longer.seen().get(1).calledIn()).isEqualTo(9 * 60 + 35);
    }

    @Test
    void one_that_ended_past_the_session_still_fits_unless_it_would_end_later() {
        Session hour = Session.between(NINE, LocalTime.of(10, 0));
        List<Held> held = List.of(visit("a", 0, 40, 0, 0, 40), visit("b", 40, 30, 40, 40, 70));
        assertThat(Replay.of(hour, held).asItWas().noLongerFit()).isEmpty();
        assertThat(with(hour, held, Map.of("a", 35)).noLongerFit()).isEmpty();
        assertThat(with(hour, held, Map.of("a", 45)).noLongerFit()).containsExactly("b");
    }

    @Test
    void slots_keep_clear_of_the_break_and_none_moves_forward_across_it() {
        Session session = TWO_HOURS.withBreaks(new Break(at(40), at(60), 0));
        List<Held> held =
                List.of(visit("a", 0, 20, 0, 0, 20), visit("b", 20, 20, 20, 20, 40), visit("c", 60, 20, 60, 60, 80));
        Outcome longer = with(session, held, Map.of("a", 25));
        // b would run into the break, so it comes after it, and c after b.
        assertThat(longer.seen().stream().map(Seen::calledIn).toList()).containsExactly(540.0, 600.0, 620.0);
        Outcome shorter = with(session, held, Map.of("a", 10, "b", 10));
        assertThat(shorter.seen().stream().map(Seen::calledIn).toList()).containsExactly(540.0, 560.0, 600.0);
        // b is booked at 10 and waits for a's 20 minutes; c keeps its start after the break.
        assertThat(waits(shorter)).containsExactly(0.0, 10.0, 0.0);
        assertThat(shorter.freeMinutes()).containsExactly(20.0, 40.0);
    }

    @Test
    void a_fit_in_keeps_its_arrival_and_one_who_did_not_attend_the_slot() {
        List<Held> held = List.of(
                visit("a", 0, 20, 0, 0, 20),
                new Held(RealisedVisit.absent("gone", at(20)), 20),
                new Held(new RealisedVisit("fitted in", null, at(18), at(22), at(35)), 0),
                visit("c", 40, 20, 40, 40, 60));
        Outcome longer = with(TWO_HOURS, held, Map.of("a", 25, "gone", 25));
        // c is booked at 50 for 40; the fit-in is called as it was, 2 minutes after the room was ready.
        assertThat(longer.seen().stream().map(Seen::calledIn).toList()).containsExactly(540.0, 562.0, 590.0);
        assertThat(longer.seen().get(1).waitMinutes()).isCloseTo(4, within(1e-12));
    }

    @Test
    void refuses_two_visits_of_one_name_and_a_slot_below_nothing() {
        Held one = visit("a", 0, 20, 0, 0, 20);
        assertThatThrownBy(() -> Replay.of(TWO_HOURS, List.of(one, one)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("one name");
        assertThatThrownBy(() -> visit("a", 0, -5, 0, 0, 20))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("-5");
    }
}
