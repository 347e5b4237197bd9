package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.review.ListedVisit;
import org.earslot.review.figures.Waits.CauseLine;
import org.junit.jupiter.api.Test;

class WaitSharesTest {

    private static final String DAY = "2026-03-03";

    @Test
    void puts_each_minute_of_a_small_morning_down_to_its_source() {
        // The first is ready 12 minutes after the second was booked, who waits these 12; the second is out so soon that
        // the
        // third, booked 10:00, is called in on time; the fourth is there but called in 6 minutes late by a free
        // practitioner.
        MeasuredVisit first = visit("09:00", "09:00", "09:37", "09:42");
        MeasuredVisit second = visit("09:30", "09:42", "09:52", "09:56");
        MeasuredVisit third = visit("10:00", "10:00", "10:15", "10:19");
        MeasuredVisit fourth = visit("10:30", "10:36", "10:50", "10:54");
        Waits.Shared shared = WaitShares.of(List.of(first, second, third, fourth), List.of(), ListedVisit.LONDON);
        assertThat(shared.waits().minutes()).isEqualTo(18);
        assertThat(shared.waits().causes())
                .containsExactly(new CauseLine("visit", 12, 1), new CauseLine("called_in_late", 6, 1));
        assertThat(shared.byVisit()).containsOnlyKeys(first.id()).containsEntry(first.id(), 12.0);
        assertThat(shared.waits().costliest()).singleElement().satisfies(costly -> {
            assertThat(costly.visitRef()).isEqualTo(first.visitRef());
            assertThat(costly.inRoom()).isEqualTo(37);
            assertThat(costly.patients()).isEqualTo(1);
            assertThat(costly.fourInFive()).isNull();
        });
    }

    @Test
    void counts_a_late_start_of_the_session() {
        ClinicSession morning = new ClinicSession(
                UUID.randomUUID(),
                ListedVisit.P1,
                UUID.randomUUID(),
                LocalDate.parse(DAY),
                new TimeSpan(LocalTime.of(9, 0), LocalTime.of(12, 0)),
                Optional.empty());
        MeasuredVisit visit = visit("09:00", "09:08", "09:20", "09:24");
        Waits waits = WaitShares.of(List.of(visit), List.of(morning), ListedVisit.LONDON)
                .waits();
        assertThat(waits.causes()).containsExactly(new CauseLine("session_start", 8, 1));
    }

    @Test
    void sums_to_the_waits_on_random_days() {
        Random dice = new Random(20260303);
        List<MeasuredVisit> visits = new ArrayList<>();
        for (int day = 0; day < 200; day++) {
            visits.addAll(randomDay(LocalDate.parse(DAY).plusDays(day).toString(), dice));
        }
        Waits.Shared shared = WaitShares.of(visits, List.of(), ListedVisit.LONDON);
        double waited = visits.stream()
                .flatMapToDouble(visit -> visit.waited().stream())
                .sum();
        double caused =
                shared.waits().causes().stream().mapToDouble(CauseLine::minutes).sum();
        assertThat(shared.waits().listsLeftOut()).isZero();
        assertThat(waited).isGreaterThan(1000);
        assertThat(shared.waits().minutes()).isCloseTo(waited, within(1e-6));
        assertThat(caused).isCloseTo(waited, within(1e-6));
        assertThat(shared.waits().costliest()).hasSize(10);
    }

    @Test
    void leaves_out_a_list_in_which_the_clocks_change() {
        MeasuredVisit visit = ListedVisit.on("2026-10-25")
                .booked("00:30", "03:00")
                .inRoom("00:40", "02:10", "02:15")
                .visit();
        Waits waits =
                WaitShares.of(List.of(visit), List.of(), ListedVisit.LONDON).waits();
        assertThat(waits.listsLeftOut()).isEqualTo(1);
        assertThat(waits.minutes()).isZero();
    }

    private static List<MeasuredVisit> randomDay(String day, Random dice) {
        List<MeasuredVisit> list = new ArrayList<>();
        LocalTime free = LocalTime.of(9, dice.nextInt(10));
        for (int place = 0; place < 12; place++) {
            LocalTime booked = LocalTime.of(9, 0).plusMinutes(20L * place);
            if (dice.nextInt(10) == 0) {
                list.add(ListedVisit.on(day)
                        .booked(booked.toString(), booked.plusMinutes(20).toString())
                        .absent()
                        .visit());
                continue;
            }
            LocalTime arrived = booked.plusMinutes(dice.nextInt(25) - 18);
            LocalTime calledIn =
                    later(later(free, arrived), booked.minusMinutes(3)).plusMinutes(dice.nextInt(3));
            LocalTime finished = calledIn.plusMinutes(8 + dice.nextInt(20));
            free = finished.plusMinutes(dice.nextInt(5));
            list.add(ListedVisit.on(day)
                    .booked(booked.toString(), booked.plusMinutes(20).toString())
                    .arrived(arrived.toString())
                    .inRoom(calledIn.toString(), finished.toString(), free.toString())
                    .visit());
        }
        return list;
    }

    private static LocalTime later(LocalTime one, LocalTime other) {
        return one.isAfter(other) ? one : other;
    }

    private static MeasuredVisit visit(String booked, String calledIn, String finished, String ready) {
        return ListedVisit.on(DAY)
                .booked(booked, "12:00")
                .inRoom(calledIn, finished, ready)
                .visit();
    }
}
