package org.earslot.lived;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.BiConsumer;
import org.earslot.lived.Clinic.Listed;

/** One day of the clinic from the morning's look at the sheet to the night's own work. */
final class WorkingDay {

    private static final Duration A_NIGHT = Duration.ofMinutes(2);
    private static final double NEVER_COMES = 0.06;
    private static final double LATE = 0.1;

    private final Clinic clinic;
    private final Journal journal;
    private final Screens screens;
    private final Events events = new Events();
    private final Random random;
    private final Desk desk;
    private final LocalDate date;
    private final Map<String, Chair> chairs = new HashMap<>();

    /** @param seed the same seed lives the same day, on the same program */
    WorkingDay(Clinic clinic, Journal journal, LocalDate date, long seed) {
        this.clinic = clinic;
        this.journal = journal;
        this.date = date;
        screens = new Screens(clinic, journal);
        random = new Random(seed);
        desk = new Desk(clinic, journal, random);
    }

    /** Lives it until everybody has gone home; how many steps there were. */
    int live() {
        clinic.clockReaches(date.atTime(7, 30));
        clinic.lead.open("/day/" + date + "/sheet");
        List<Listed> booked = clinic.visits(date);
        booked.forEach(this::comes);
        calls();
        int steps = events.live(clinic, () -> screens.agree(date));
        assertThat(clinic.visits(date))
                .as("nobody is left at the end of %s", date)
                .allSatisfy(visit -> assertThat(visit.isOff() || visit.has("finished"))
                        .as("%s", visit.said())
                        .isTrue());
        return steps;
    }

    /** Closes the day by hand, the numbers that the page names confirmed. */
    void close() {
        Page day = clinic.lead.open("/day/" + date);
        Page after = clinic.lead.press(day, "/day/" + date + "/close", Map.of("openVisits", day.ticked("openVisits")));
        assertThat(isClosed()).as("%s is closed: %s", date, after.refusal()).isTrue();
        screens.agree(date);
    }

    /** The night after it: the day is closed by itself, the estimator learns, and a month that has ended can be read. */
    void sleep() {
        String before = clinic.program.get("/estimator").path("version").asString();
        clinic.clockReaches(date.plusDays(1).atTime(3, 10));
        Patience.until("the night has closed " + date, A_NIGHT, this::isClosed);
        Patience.until(
                "the estimator has learnt in the night after " + date,
                A_NIGHT,
                () -> !clinic.program
                        .get("/estimator")
                        .path("version")
                        .asString()
                        .equals(before));
        YearMonth month = YearMonth.from(date);
        if (!month.equals(YearMonth.from(date.plusDays(1)))) {
            clinic.lead.open("/review/" + month);
            clinic.program.get("/reviews/" + month);
        }
        screens.agree(date);
    }

    private boolean isClosed() {
        return clinic.day(date).path("closed").asBoolean();
    }

    /** The practitioner's chair, taken by the time of the first visit booked with them. */
    private Chair chair(String practitioner) {
        return chairs.computeIfAbsent(practitioner, code -> {
            Chair chair = new Chair(clinic, journal, events, random, code, date);
            LocalDateTime first = clinic.visits(date).stream()
                    .filter(visit -> visit.practitioner().equals(code))
                    .map(Listed::bookedStart)
                    .min(LocalDateTime::compareTo)
                    .orElseThrow();
            events.at(first.plusMinutes(random.nextInt(7)), chair::free);
            return chair;
        });
    }

    /** Early, late or never. */
    private void comes(Listed visit) {
        chair(visit.practitioner()).expects();
        LocalDateTime start = visit.bookedStart();
        if (random.nextDouble() < NEVER_COMES) {
            events.at(start.plusMinutes(25), () -> unlessMoved(visit, desk::didNotCome));
            return;
        }
        int minutes = random.nextDouble() < LATE ? 8 + random.nextInt(12) : -(int) (8 + 6 * random.nextGaussian());
        List<BiConsumer<String, LocalDate>> ways = List.of(
                desk::checkIn,
                desk::checkIn,
                desk::checkInByProgram,
                desk::checkInTwice,
                desk::checkInWithoutConnection);
        BiConsumer<String, LocalDate> way = ways.get(random.nextInt(ways.size()));
        LocalDateTime arrival = start.plusMinutes(minutes);
        events.at(arrival.isBefore(date.atTime(8, 0)) ? date.atTime(8, 0) : arrival, () -> unlessMoved(visit, way));
    }

    private void unlessMoved(Listed visit, BiConsumer<String, LocalDate> happens) {
        boolean stillToCome = clinic.visits(date).stream()
                .anyMatch(now -> now.id().equals(visit.id())
                        && now.bookedStart().equals(visit.bookedStart())
                        && !now.isOff()
                        && !now.has("arrived"));
        if (stillToCome) {
            happens.accept(visit.id(), date);
        }
    }

    /** What comes by phone, by other programs and through the door. */
    private void calls() {
        for (int i = 0; i < 3; i++) {
            events.at(sometime(), () -> desk.phonedReferral().ifPresent(this::ofToday));
            events.at(sometime(), () -> desk.sentReferral().ifPresent(this::ofToday));
        }
        events.at(
                sometime(),
                () -> someoneOf(date.plusDays(1)).ifPresent(visit -> {
                    desk.move(visit).ifPresent(this::ofToday);
                    screens.agree(visit.bookedStart().toLocalDate());
                }));
        events.at(
                sometime(),
                () -> someoneOf(date.plusDays(1)).ifPresent(visit -> {
                    desk.cancel(visit);
                    screens.agree(visit.bookedStart().toLocalDate());
                }));
        events.at(date.atTime(LocalTime.of(10, 15).plusMinutes(random.nextInt(60))), () -> desk.walkIn(date));
    }

    private void ofToday(Listed visit) {
        LocalDate day = visit.bookedStart().toLocalDate();
        screens.agree(day);
        if (day.equals(date)) {
            comes(visit);
        }
    }

    private Optional<Listed> someoneOf(LocalDate day) {
        List<Listed> toCome = clinic.visits(day).stream()
                .filter(visit -> !visit.isOff() && !visit.has("arrived") && visit.has("method"))
                .toList();
        return toCome.isEmpty() ? Optional.empty() : Optional.of(toCome.get(random.nextInt(toCome.size())));
    }

    private LocalDateTime sometime() {
        return date.atTime(8, 30).plusMinutes(random.nextInt(7 * 60));
    }
}
