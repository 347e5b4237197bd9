package org.earslot.flow.past;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.earslot.flow.list.Session;
import org.earslot.flow.past.WaitSources.Cause;
import org.earslot.flow.past.WaitSources.Share;
import org.earslot.flow.past.WaitSources.Source;
import org.hipparchus.fraction.BigFraction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class WaitSourcesTest {

    private static final Session SESSION = Session.between(LocalTime.of(9, 0), LocalTime.of(11, 0));

    private static LocalTime at(int minutesPastNine) {
        return LocalTime.of(9, 0).plusMinutes(minutesPastNine);
    }

    private static RealisedVisit visit(String name, int booked, int arrived, int called, int ready) {
        return new RealisedVisit(name, at(booked), at(arrived), at(called), at(ready));
    }

    private static Share share(Cause cause, String visit, long minutes) {
        return new Share(new Source(cause, visit), new BigFraction(minutes));
    }

    private static BigFraction sum(List<Share> shares) {
        return shares.stream().map(Share::minutes).reduce(BigFraction.ZERO, BigFraction::add);
    }

    @Test
    void aLongVisitPaysForTheNextWait() {
        WaitSources found = WaitSources.of(
                SESSION, List.of(visit("a", 0, 0, 0, 28), visit("b", 20, 15, 28, 38), visit("c", 40, 40, 40, 60)));
        assertThat(found.waits().get(1).shares()).containsExactly(share(Cause.VISIT, "a", 8));
        assertThat(found.waits().get(2).shares()).isEmpty();
        assertThat(found.overtime()).isEmpty();
    }

    @Test
    void aFallIsPaidOldestFirstAndAWaitSharedInProportion() {
        // a runs 12 over, b 6 over its gap of 20, c 10 under: 12 + 6 = 18 at c; 8 of a's 12 paid by c leave 2 + 6 at d.
        List<RealisedVisit> day = List.of(
                visit("a", 0, 0, 0, 32),
                visit("b", 20, 20, 32, 58),
                visit("c", 40, 49, 58, 68),
                visit("d", 60, 60, 68, 80));
        WaitSources found = WaitSources.of(SESSION, day);
        // c came 9 late, so waited 9 of 18: half of either part.
        assertThat(found.waits().get(2).shares())
                .containsExactly(share(Cause.VISIT, "a", 6), share(Cause.VISIT, "b", 3));
        assertThat(found.waits().get(3).shares())
                .containsExactly(share(Cause.VISIT, "a", 2), share(Cause.VISIT, "b", 6));
    }

    @Test
    void latenessBeyondTheDebtIsThePatientsOwnThenTheCalls() {
        List<RealisedVisit> day = List.of(visit("a", 0, 7, 9, 30), visit("b", 20, 20, 33, 45));
        WaitSources found = WaitSources.of(SESSION, at(0), day);
        assertThat(found.waits().get(0).debt())
                .containsExactly(share(Cause.LATE_ARRIVAL, "a", 7), share(Cause.CALLED_IN_LATE, "a", 2));
        assertThat(found.waits().get(0).shares()).containsExactly(share(Cause.CALLED_IN_LATE, "a", 2));
        assertThat(found.waits().get(1).shares())
                .containsExactly(
                        share(Cause.LATE_ARRIVAL, "a", 7),
                        share(Cause.CALLED_IN_LATE, "a", 2),
                        share(Cause.VISIT, "a", 1),
                        share(Cause.CALLED_IN_LATE, "b", 3));
    }

    @Test
    void anEarlyCallCarriesCredit() {
        List<RealisedVisit> day =
                List.of(visit("a", 0, 0, 0, 10), visit("b", 20, 5, 12, 44), visit("c", 40, 40, 44, 60));
        // b took 32 against a gap of 20, but began 8 early: 4 over.
        assertThat(WaitSources.of(SESSION, day).waits().get(2).shares()).containsExactly(share(Cause.VISIT, "b", 4));
    }

    @Test
    void aLateSessionAndAnAbsentPatientAreSeen() {
        List<RealisedVisit> day =
                List.of(visit("a", 0, 0, 12, 32), RealisedVisit.absent("b", at(20)), visit("c", 30, 30, 32, 50));
        WaitSources found = WaitSources.of(SESSION, day);
        assertThat(found.waits().get(0).shares()).containsExactly(share(Cause.SESSION_START, "", 12));
        // The absent patient's gap of 10 pays 10 of the session's 12.
        assertThat(found.waits().get(1).shares()).containsExactly(share(Cause.SESSION_START, "", 2));
    }

    @Test
    void aFitInDelaysInItsOwnName() {
        List<RealisedVisit> day = List.of(
                visit("a", 0, 0, 0, 20),
                new RealisedVisit("urgent", null, at(5), at(20), at(31)),
                visit("b", 20, 20, 31, 50));
        WaitSources found = WaitSources.of(SESSION, day);
        assertThat(found.waits().get(1).shares()).containsExactly(share(Cause.FIT_IN, "urgent", 15));
        assertThat(found.waits().get(2).shares()).containsExactly(share(Cause.FIT_IN, "urgent", 11));
        assertThat(found.totals()).containsEntry(new Source(Cause.FIT_IN, "urgent"), new BigFraction(26));
    }

    @Test
    void overtimeIsTheDebtLeft() {
        List<RealisedVisit> day = List.of(visit("a", 0, 0, 0, 100), visit("b", 90, 90, 100, 126));
        // a is 10 over; b, 26 in a gap of 30, pays 4 of them.
        assertThat(WaitSources.of(SESSION, day).overtime()).containsExactly(share(Cause.VISIT, "a", 6));
    }

    @Test
    void refusesTimesThatDoNotFollowEachOther() {
        assertThatThrownBy(() -> visit("a", 0, 0, 10, 5)).hasMessageContaining("give both, in this order");
    }

    /** Every kind of day: late and early, absent, fit-ins, out of order, overlapping calls, seconds. */
    @ParameterizedTest
    @ValueSource(ints = 20_000)
    void sharesSumToWaitsAndDebtToLateness(int days) {
        Random random = new Random(4);
        int waited = 0;
        for (int day = 0; day < days; day++) {
            List<RealisedVisit> visits = randomDay(random);
            LocalTime began = LocalTime.of(9, 0).plusSeconds(random.nextInt(1200));
            WaitSources found =
                    random.nextBoolean() ? WaitSources.of(SESSION, visits) : WaitSources.of(SESSION, began, visits);
            for (WaitSources.Wait wait : found.waits()) {
                RealisedVisit visit = visits.stream()
                        .filter(each -> each.name().equals(wait.name()))
                        .findFirst()
                        .orElseThrow();
                assertThat(wait.minutes()).isEqualTo(minutes(realisedWait(visit)));
                assertThat(sum(wait.shares())).isEqualTo(wait.minutes());
                assertThat(wait.shares()).allMatch(share -> share.minutes().compareTo(BigFraction.ZERO) > 0);
                if (visit.booked() != null) {
                    long late =
                            visit.calledIn().toSecondOfDay() - visit.booked().toSecondOfDay();
                    assertThat(sum(wait.debt())).isEqualTo(minutes(Math.max(0, late)));
                }
                waited += wait.shares().size();
            }
            long attended =
                    visits.stream().filter(each -> each.calledIn() != null).count();
            assertThat(found.waits()).hasSize((int) attended);
            assertThat(sum(found.overtime())).isEqualTo(minutes(overtime(visits, found)));
        }
        assertThat(waited).isGreaterThan(days);
    }

    private static BigFraction minutes(long seconds) {
        return new BigFraction(seconds, 60L);
    }

    private static long realisedWait(RealisedVisit visit) {
        long from = visit.booked() == null ? 0 : visit.booked().toSecondOfDay();
        from = visit.arrived() == null ? from : Math.max(from, visit.arrived().toSecondOfDay());
        return Math.max(0, visit.calledIn().toSecondOfDay() - from);
    }

    private static long overtime(List<RealisedVisit> visits, WaitSources found) {
        if (found.waits().isEmpty()) {
            return 0;
        }
        String last = found.waits().get(found.waits().size() - 1).name();
        long ready = visits.stream()
                .filter(each -> each.name().equals(last))
                .mapToLong(each -> each.roomReady().toSecondOfDay())
                .sum();
        return Math.max(0, ready - SESSION.to().toSecondOfDay());
    }

    private static List<RealisedVisit> randomDay(Random random) {
        List<RealisedVisit> visits = new ArrayList<>();
        int count = 1 + random.nextInt(8);
        LocalTime free = LocalTime.of(9, 0).plusSeconds(random.nextInt(900));
        for (int i = 0; i < count; i++) {
            LocalTime booked = at(15 * i + random.nextInt(6));
            LocalTime arrived = booked.plusSeconds(random.nextInt(1800) - 1200);
            int kind = random.nextInt(10);
            if (kind == 0) {
                visits.add(RealisedVisit.absent("v" + i, booked));
                continue;
            }
            LocalTime called = free.isAfter(arrived) ? free : arrived;
            called = called.plusSeconds(random.nextInt(3) == 0 ? random.nextInt(400) : 0);
            called = random.nextInt(12) == 0 ? called.minusSeconds(random.nextInt(300)) : called;
            LocalTime ready = called.plusSeconds(240 + random.nextInt(1500));
            boolean unknown = kind == 2;
            visits.add(new RealisedVisit(
                    "v" + i, kind == 1 ? null : booked, kind != 1 && unknown ? null : arrived, called, ready));
            free = ready;
        }
        if (random.nextInt(4) == 0) {
            Collections.shuffle(visits, random);
        }
        return visits;
    }
}
