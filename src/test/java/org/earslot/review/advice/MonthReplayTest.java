package org.earslot.review.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotAdjustments;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.minutes.FixedMinutes;
import org.earslot.review.ListedVisit;
import org.earslot.review.figures.MeasuredVisit;
import org.earslot.review.figures.PastList;
import org.earslot.review.figures.SessionMinutes;
import org.junit.jupiter.api.Test;

class MonthReplayTest {

    private static final PolicyTerms POLICY = new PolicyTerms(5, 0.25, 0.2, 10, 90, 15, 5, 3, 4, 5);
    private static final SlotKind ONE_EAR = new SlotKind(Method.MICROSUCTION, false);

    private static MeasuredVisit visit(String booked, String calledIn, String finished, String ready) {
        return ListedVisit.on("2026-03-03")
                .booked(booked, "12:00")
                .inRoom(calledIn, finished, ready)
                .visit();
    }

    private static ClinicSession session(String to) {
        return new ClinicSession(
                UUID.randomUUID(),
                ListedVisit.P1,
                UUID.randomUUID(),
                LocalDate.parse("2026-03-03"),
                new TimeSpan(LocalTime.of(9, 0), LocalTime.parse(to)),
                Optional.empty());
    }

    /** Three of 20 minutes each, that take 26, 24 and 20. */
    private static List<MeasuredVisit> morning() {
        return List.of(
                visit("09:00", "09:00", "09:22", "09:26"),
                visit("09:20", "09:26", "09:46", "09:50"),
                visit("09:40", "09:52", "10:08", "10:12"));
    }

    private static MonthReplay replay(List<MeasuredVisit> visits, ClinicSession... held) {
        return new MonthReplay(PastList.of(visits, List.of(held), ListedVisit.LONDON));
    }

    @Test
    void gives_back_the_real_waits_overtime_and_idle_minutes() {
        List<MeasuredVisit> visits = new ArrayList<>(morning());
        visits.add(
                ListedVisit.on("2026-03-03").booked("10:20", "10:40").absent().visit());
        visits.add(ListedVisit.on("2026-03-03")
                .fitIn()
                .arrived("10:05")
                .inRoom("10:13", "10:40", "10:44")
                .visit());
        ClinicSession session = session("10:40");
        ReplayEffect.Run run = replay(visits, session).asItWas();
        assertThat(run.waits()).isEqualTo(4);
        assertThat(run.waitMinutes())
                .isEqualTo(visits.stream()
                        .flatMapToDouble(visit -> visit.waited().stream())
                        .sum())
                .isEqualTo(0 + 6 + 12 + 8);
        assertThat(run.late()).isEqualTo(1);
        SessionMinutes minutes = SessionMinutes.of(visits, List.of(session), ListedVisit.LONDON);
        assertThat(run.overtimeMinutes()).isEqualTo(minutes.overtime()).isEqualTo(4);
        assertThat(run.idleMinutes()).isEqualTo(minutes.idle()).isEqualTo(3);
    }

    @Test
    void tells_what_longer_slots_do_and_who_would_no_longer_fit() {
        // 5 more each: the second is called at 09:26 for 09:25, the third at 09:52 for 09:50, whose slot ends 10:15.
        ReplayEffect longer = replay(morning(), session("10:15")).with(visit -> 25);
        assertThat(longer.visits()).isEqualTo(3);
        assertThat(longer.then().waitMinutes()).isEqualTo(1 + 2);
        assertThat(longer.noLongerFit()).isEmpty();
        assertThat(longer.patients()).isZero();
        ReplayEffect tooLong = replay(morning(), session("10:10")).with(visit -> 25);
        assertThat(tooLong.noLongerFit())
                .extracting(ReplayEffect.Unfit::bookedStart)
                .containsExactly(LocalTime.of(9, 40));
        assertThat(tooLong.patients()).isEqualTo(-1);
        assertThat(tooLong.now().overtimeMinutes()).isEqualTo(2);
        assertThat(tooLong.then().overtimeMinutes()).isZero();
    }

    @Test
    void counts_room_for_one_more_where_shorter_slots_free_a_usual_one() {
        // Three slots of 20 in 75 minutes leave 15 free; of 15 each they leave 30, in which one of 20 fits.
        ReplayEffect shorter = replay(morning(), session("10:15")).with(visit -> 15);
        assertThat(shorter.roomForMore()).isEqualTo(1);
        assertThat(shorter.patients()).isEqualTo(1);
        assertThat(shorter.addedWait()).isPositive();
    }

    @Test
    void tells_waits_only_where_no_session_is_known() {
        ReplayEffect effect = replay(morning()).with(visit -> 90);
        assertThat(effect.now().waitMinutes()).isEqualTo(18);
        assertThat(effect.now().overtimeMinutes()).isZero();
        assertThat(effect.now().idleMinutes()).isZero();
        assertThat(effect.noLongerFit()).isEmpty();
        // The practitioner let 2 minutes pass before the third, and would again.
        assertThat(effect.then().meanWait()).isCloseTo(2 / 3.0, within(1e-12));
    }

    @Test
    void moves_a_booked_slot_by_what_the_policies_differ_within_the_limits() {
        // Fixed 18 and turnaround 4 need 22: 25 on the grid; 5 beyond make 30, whatever was booked.
        PastSlots slots = new PastSlots(Map.of(ONE_EAR, new FixedMinutes(18)));
        MeasuredVisit booked = visit("09:00", "09:00", "09:22", "09:26");
        assertThat(slots.instead(booked, POLICY, POLICY)).isEqualTo(20);
        assertThat(slots.instead(booked, POLICY, beyond(5))).isEqualTo(25);
        assertThat(slots.instead(booked, POLICY, beyond(-60))).isEqualTo(10);
        MeasuredVisit other = ListedVisit.on("2026-03-03")
                .of(Method.MANUAL_REMOVAL, Ears.BOTH)
                .booked("09:00", "09:20")
                .visit();
        assertThat(slots.instead(other, POLICY, beyond(5))).isEqualTo(20);
    }

    private static PolicyTerms beyond(int minutes) {
        return POLICY.with(new SlotTerms(0.25, new SlotAdjustments(new TreeMap<>(Map.of(ONE_EAR, minutes)))));
    }
}
