package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.review.ListedVisit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/** The head line of a month agrees with a plain count of its visits, on months drawn at random. */
class MonthFiguresTest {

    private static final YearMonth MONTH = YearMonth.of(2026, 3);

    private static final String PROMISE = "{\"version\":\"1\",\"slotMinutes\":20,\"mean\":%1$d,\"sd\":5,"
            + "\"completion\":{\"0.5\":%1$d,\"0.8\":%2$d,\"0.95\":%3$d},"
            + "\"inRoom\":{\"0.5\":%1$d,\"0.8\":%2$d,\"0.95\":%3$d},\"sharedSdLog\":0.1}";

    private final Random random = new Random(20260301);

    @Test
    void count_what_the_visits_say() {
        for (int round = 0; round < 10; round++) {
            List<MeasuredVisit> visits = visits();
            PastMonth month = new PastMonth(
                    MONTH, visits, BookedEstimates.of(visits), sessions(), ListedVisit.LONDON, method -> 4);
            MonthFigures figures = MonthFigures.of(month, new MeasuredVisits.Cancelled(31, 2));
            head(figures.head(), visits);
            assertThat(figures.waits().minutes())
                    .isCloseTo(
                            figures.waits().causes().stream()
                                    .mapToDouble(Waits.CauseLine::minutes)
                                    .sum(),
                            within(1e-6));
            MonthSums sums = MonthSums.of(month);
            assertThat(sums.days().stream()
                            .mapToInt(day -> day.figures().seen())
                            .sum())
                    .isEqualTo(figures.head().visits());
            assertThat(sums.estimated().get(0).visits())
                    .isEqualTo(figures.estimated().lines().get(0).visits());
        }
    }

    private static void head(HeadLine head, List<MeasuredVisit> visits) {
        double[] waits = visits.stream()
                .flatMapToDouble(visit -> visit.waited().stream())
                .toArray();
        int[] slots = visits.stream()
                .filter(visit -> visit.slotMinutes() != null)
                .mapToInt(MeasuredVisit::slotMinutes)
                .sorted()
                .toArray();
        assertThat(head.visits())
                .isEqualTo(visits.stream().filter(MeasuredVisit::seen).count());
        assertThat(head.calledInLate())
                .isEqualTo(new Share(
                        (int) Arrays.stream(waits).filter(wait -> wait > 10).count(), waits.length));
        assertThat(head.overruns().of())
                .isEqualTo(visits.stream()
                        .filter(visit -> visit.over().isPresent())
                        .count());
        assertThat(head.fitIns())
                .isEqualTo(visits.stream()
                        .filter(visit -> visit.seen() && visit.fitIn())
                        .count());
        assertThat(head.untimed())
                .isEqualTo(visits.stream()
                        .filter(visit -> visit.seen() && !visit.timed())
                        .count());
        assertThat(head.usualSlot()).isEqualTo(slots[(slots.length - 1) / 2]);
        assertThat(head.cancelledByPatient()).isEqualTo(31);
    }

    private static UUID practitioner(int number) {
        return new UUID(0, number);
    }

    private static List<ClinicSession> sessions() {
        TimeSpan hours = new TimeSpan(LocalTime.of(9, 0), LocalTime.of(12, 0));
        return MONTH.atDay(1)
                .datesUntil(MONTH.plusMonths(1).atDay(1))
                .flatMap(day -> IntStream.range(0, 2)
                        .mapToObj(number -> new ClinicSession(
                                new UUID(1, number),
                                practitioner(number),
                                new UUID(2, number),
                                day,
                                hours,
                                Optional.empty())))
                .toList();
    }

    /** Three practitioners, the third without sessions; some days nobody comes. */
    private List<MeasuredVisit> visits() {
        List<MeasuredVisit> visits = new ArrayList<>();
        MONTH.atDay(1)
                .datesUntil(MONTH.plusMonths(1).atDay(1))
                .filter(day -> random.nextInt(5) > 0)
                .forEach(day -> {
                    for (int number = 0; number < 3; number++) {
                        list(day, number, visits);
                    }
                });
        return visits;
    }

    private void list(LocalDate day, int number, List<MeasuredVisit> visits) {
        Instant free = at(day, 9, 0);
        int count = random.nextInt(8);
        for (int i = 0; i < count; i++) {
            Instant booked = at(day, 9, 20 * i);
            Instant calledIn = later(free, booked).plusSeconds(60L * random.nextInt(4));
            Instant finished = calledIn.plusSeconds(60L * (5 + random.nextInt(25)));
            Instant ready = finished.plusSeconds(60L * random.nextInt(6));
            visits.add(visit(
                    day, number, booked, i + 1 < count ? at(day, 9, 20 * i + 20) : null, calledIn, finished, ready));
            free = later(free, ready);
        }
    }

    private MeasuredVisit visit(
            LocalDate day,
            int number,
            Instant booked,
            @Nullable Instant next,
            Instant calledIn,
            Instant finished,
            Instant ready) {
        Attendance attendance = random.nextInt(9) == 0
                ? Attendance.DID_NOT_ATTEND
                : random.nextInt(9) == 0 ? Attendance.ATTENDED_LATE : Attendance.ATTENDED;
        boolean timed = attendance != Attendance.DID_NOT_ATTEND && random.nextInt(9) > 0;
        boolean fitIn = random.nextInt(9) == 0;
        UUID id = new UUID(random.nextLong(), random.nextLong());
        int half = 8 + random.nextInt(12);
        return new MeasuredVisit(
                id,
                id.toString(),
                day,
                practitioner(number),
                "P" + number,
                attendance,
                Method.values()[random.nextInt(3)],
                Ears.values()[random.nextInt(3)],
                random.nextInt(3) == 0 ? null : "Practice " + random.nextInt(25),
                some(Wax.class),
                some(Canal.class),
                some(Depth.class),
                some(Outcome.class),
                random.nextInt(20) == 0,
                fitIn ? null : booked,
                fitIn ? null : 15 + 5 * random.nextInt(4),
                fitIn,
                random.nextInt(4) == 0 ? null : booked.minusSeconds(60L * random.nextInt(20) - 300),
                timed ? calledIn : null,
                timed ? finished : null,
                timed ? ready : null,
                0,
                random.nextInt(3) == 0 ? null : StoppedEarly.values()[random.nextInt(4)],
                fitIn ? null : next == null ? booked.plusSeconds(1200) : next,
                random.nextInt(4) == 0 ? null : PROMISE.formatted(half, half + 6, half + 12));
    }

    /** None, one or two of them. */
    private <W extends Enum<W>> Set<W> some(Class<W> type) {
        Set<W> some = EnumSet.noneOf(type);
        W[] all = type.getEnumConstants();
        for (int i = random.nextInt(3); i > 0; i--) {
            some.add(all[random.nextInt(all.length)]);
        }
        return some;
    }

    private static Instant at(LocalDate day, int hour, int minutes) {
        return day.atTime(hour, 0)
                .plusMinutes(minutes)
                .atZone(ListedVisit.LONDON)
                .toInstant();
    }

    private static Instant later(Instant one, Instant other) {
        return one.isAfter(other) ? one : other;
    }
}
