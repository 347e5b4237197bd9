package org.earslot.day;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.DiaryFixture;
import org.earslot.booking.VisitRecords;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.VisitCheck;
import org.earslot.ear.Wax;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitTimes;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Whatever is pressed in whatever order: after each step the row of the visit log says what its appointment says, a refused
 * step changes nothing, and times follow each other or are marked as implausible.
 */
class PressSequencesTest {

    private static final ZoneId LONDON = ZoneId.of("Europe/London");
    private static final int STEPS = 30;

    abstract static class Pressing {

        private final int sequences;
        private final List<String> expected;

        @Autowired
        private RunningDay running;

        @Autowired
        private SecondTry secondTry;

        @Autowired
        private DayClosing closing;

        @Autowired
        private VisitChecks checks;

        @Autowired
        private Booking booking;

        @Autowired
        private Appointments appointments;

        @Autowired
        private VisitRecords records;

        @Autowired
        private Visits visits;

        @Autowired
        private TransactionTemplate inTransaction;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private SettableClock clock;

        @Autowired
        private JdbcTemplate jdbc;

        Pressing(int sequences, List<String> steps) {
            this.sequences = sequences;
            expected = steps.stream()
                    .flatMap(step -> Stream.of(step + " done", step + " refused"))
                    .toList();
        }

        @Test
        void leave_one_record_of_each_visit() {
            Map<String, Integer> outcomes = new TreeMap<>();
            for (int seed = 0; seed < sequences; seed++) {
                new Sequence(seed, outcomes).run();
            }
            // Each kind of step is both done and refused somewhere, or the sequences would show little.
            assertThat(outcomes.keySet()).containsAll(expected);
        }

        /** One clinic's day with two booked visits and a fit-in. */
        private final class Sequence {

            private final String name;
            private final Random random;
            private final Map<String, Integer> outcomes;
            private final TestClinic clinic;
            private final List<UUID> ids = new ArrayList<>();
            private final List<ClockCommand> sent = new ArrayList<>();
            private String step = "";

            Sequence(int seed, Map<String, Integer> outcomes) {
                name = "sequence " + seed;
                random = new Random(seed);
                this.outcomes = outcomes;
                clock.set(WEDNESDAY.atTime(8, 30).atZone(LONDON).toInstant());
                clinic = clinics.open();
                ids.add(fixture.appointment(clinic, WEDNESDAY.atTime(9, 0), 30));
                ids.add(fixture.appointment(clinic, WEDNESDAY.atTime(9, 30), 30));
                var walkIn = fixture.referral(clinic, Method.IRRIGATION, Ears.LEFT);
                BookingResult fitted = booking.book(
                        clinic.id(),
                        new OfFitIn(
                                walkIn.id(),
                                null,
                                null,
                                null,
                                "walked in",
                                fixture.place(clinic, WEDNESDAY.atTime(10, 30), 20)),
                        "desk");
                assertThat(fitted).isInstanceOf(Done.class);
                ids.add(((Done) fitted).appointmentId());
            }

            void run() {
                for (int i = 0; i < STEPS; i++) {
                    pass();
                    List<?> before = stored();
                    boolean done = anything();
                    outcomes.merge(step.split(" ")[0] + (done ? " done" : " refused"), 1, Integer::sum);
                    List<?> after = stored();
                    if (!done) {
                        assertThat(after).as(said(i)).isEqualTo(before);
                    }
                    for (UUID id : ids) {
                        check(said(i), appointments.findById(id).orElseThrow());
                    }
                    ids.forEach(this::writeAgain);
                    assertThat(stored()).as(said(i) + ", written again").isEqualTo(after);
                }
            }

            private void writeAgain(UUID id) {
                inTransaction.executeWithoutResult(status -> {
                    Appointment appointment = appointments.findById(id).orElseThrow();
                    records.write(appointment);
                    records.write(appointment);
                });
            }

            private String said(int i) {
                return name + ", step " + i + ": " + step;
            }

            private void pass() {
                int minutes = random.nextInt(12) == 0 ? 185 : random.nextInt(8);
                Instant then = clock.instant().plus(Duration.ofMinutes(minutes)).plusSeconds(random.nextInt(60));
                Instant evening = WEDNESDAY.atTime(20, 0).atZone(LONDON).toInstant();
                clock.set(then.isAfter(evening) ? evening : then);
            }

            private boolean anything() {
                UUID id = ids.get(random.nextInt(ids.size()));
                return switch (random.nextInt(24)) {
                    case 0, 1, 2, 3, 4, 5, 6, 7 ->
                        press(id, random.nextBoolean() ? next(id) : any(ClockEvent.values()));
                    case 8, 9 -> offline(id, any(ClockEvent.values()));
                    case 10, 11, 12 -> correct(id);
                    case 13 -> undo(id);
                    case 14 -> named("missed", running.didNotAttend(clinic.id(), id, null));
                    case 15 -> named("late", running.lateNotSeen(clinic.id(), id, null));
                    case 16, 17 -> named("findings", running.recordFindings(clinic.id(), id, findings(), "p1"));
                    case 18 ->
                        named("tick", checks.tick(clinic.id(), id, any(VisitCheck.values()), random.nextBoolean()));
                    case 19, 20 -> secondTry(id);
                    case 21 -> moveOrCancel(id);
                    case 22 -> close();
                    default -> reopen();
                };
            }

            private ClockEvent next(UUID id) {
                VisitTimes times = appointments.findById(id).orElseThrow().times();
                return times.finished() != null
                        ? ClockEvent.ROOM_READY
                        : times.calledIn() != null
                                ? ClockEvent.FINISHED
                                : times.arrived() != null ? ClockEvent.CALLED_IN : ClockEvent.ARRIVED;
            }

            /** Mostly of a patient of whom it can be said. */
            private boolean secondTry(UUID any) {
                List<Appointment> now = ids.stream()
                        .flatMap(one -> appointments.findById(one).stream())
                        .toList();
                boolean wrong = random.nextInt(5) == 0;
                Optional<UUID> outside = now.stream()
                        .filter(Appointment::isOutside)
                        .map(Appointment::id)
                        .findFirst();
                if (outside.isPresent() != wrong) {
                    return named("again", secondTry.callInAgain(clinic.id(), outside.orElse(any)));
                }
                UUID inRoom = now.stream()
                        .filter(one ->
                                one.times().calledIn() != null && one.times().finished() == null)
                        .map(Appointment::id)
                        .findFirst()
                        .orElse(any);
                return named("out", secondTry.stepOut(clinic.id(), wrong ? any : inRoom));
            }

            private boolean press(UUID id, ClockEvent event) {
                step = "press " + event;
                Instant at = random.nextInt(4) == 0
                        ? clock.instant().minus(Duration.ofMinutes(random.nextInt(30) - 5))
                        : clock.instant();
                return isDone(running.record(clinic.id(), id, null, event, at));
            }

            private boolean offline(UUID id, ClockEvent event) {
                step = "offline " + event;
                boolean again = !sent.isEmpty() && random.nextInt(3) == 0;
                ClockCommand command = again
                        ? sent.get(random.nextInt(sent.size()))
                        : new ClockCommand(UUID.randomUUID(), id, event, Duration.ofMinutes(random.nextInt(20)));
                boolean known = sent.contains(command);
                List<?> before = stored();
                boolean done = isDone(running.press(clinic.id(), command, "desk"));
                if (known) {
                    assertThat(stored()).as(name + ", sent again: " + command).isEqualTo(before);
                }
                if (done && !known) {
                    sent.add(command);
                }
                return done;
            }

            private boolean correct(UUID id) {
                Instant now = clock.instant();
                Instant from = now.minus(Duration.ofMinutes(random.nextInt(240)));
                List<@Nullable Instant> times = new ArrayList<>();
                Instant next = from;
                for (int i = 0; i < 4; i++) {
                    next = next.plus(Duration.ofMinutes(random.nextInt(25) - (random.nextInt(12) == 0 ? 30 : 0)));
                    times.add(random.nextInt(5) == 0 || next.isAfter(now) && random.nextInt(6) != 0 ? null : next);
                }
                VisitTimes to = new VisitTimes(times.get(0), times.get(1), times.get(2), times.get(3));
                return correct("correct " + to, id, to);
            }

            private boolean undo(UUID id) {
                VisitTimes was = appointments.findById(id).orElseThrow().times();
                VisitTimes to = was.roomReady() != null
                        ? new VisitTimes(was.arrived(), was.calledIn(), was.finished(), null)
                        : was.finished() != null
                                ? new VisitTimes(was.arrived(), was.calledIn(), null, null)
                                : was.calledIn() != null
                                        ? new VisitTimes(was.arrived(), null, null, null)
                                        : VisitTimes.NONE;
                return correct("undo " + to, id, to);
            }

            private boolean correct(String what, UUID id, VisitTimes times) {
                int version = appointments.findById(id).orElseThrow().version() - (random.nextInt(10) == 0 ? 1 : 0);
                return named(what, running.correct(clinic.id(), id, version, times));
            }

            private Findings findings() {
                EarRecord record = new EarRecord(
                        List.of(any(Method.values())),
                        new EarFindings(any(Wax.values()), null, null, null),
                        any(Outcome.values()),
                        any(AdverseEvent.values()));
                return new Findings(
                        Map.of(any(Ear.values()), record),
                        random.nextBoolean()
                                ? Findings.Entry.none()
                                : new Findings.Entry<>(true, any(StoppedEarly.values())),
                        random.nextBoolean() ? null : "said to come back",
                        random.nextBoolean()
                                ? Findings.Entry.none()
                                : new Findings.Entry<>(true, any(NextStep.values())));
            }

            private boolean moveOrCancel(UUID id) {
                int version = appointments.findById(id).orElseThrow().version();
                return switch (random.nextInt(4)) {
                    case 0 ->
                        named("cancel", booking.cancel(clinic.id(), id, version, any(CancelledBy.values()), "ill"));
                    case 1 -> named("confirm", booking.confirm(clinic.id(), id, version));
                    case 2 -> named("error", booking.enterInError(clinic.id(), id, version));
                    default ->
                        named(
                                "move",
                                booking.move(
                                        clinic.id(),
                                        id,
                                        version,
                                        new AskedPlace(
                                                clinic.p1(),
                                                clinic.r1(),
                                                WEDNESDAY.atTime(9 + random.nextInt(7), 15 * random.nextInt(4)),
                                                30)));
                };
            }

            private boolean close() {
                step = "close";
                return IntStream.rangeClosed(0, ids.size())
                        .mapToObj(open -> closing.close(clinic.id(), WEDNESDAY, Optional.of(open)))
                        .anyMatch(Optional::isEmpty);
            }

            private boolean reopen() {
                step = "reopen";
                return closing.reopen(clinic.id(), WEDNESDAY, "a wrong time").isEmpty();
            }

            private void check(String after, Appointment appointment) {
                Optional<Visit> row = appointment.visitId().flatMap(visits::findById);
                long rows = jdbc.queryForObject(
                        "select count(*) from visit where clinic_id = ? and visit_ref = ?",
                        Long.class,
                        clinic.id().value(),
                        "A" + appointment.id());
                assertThat(rows).as(after).isEqualTo(row.isPresent() ? 1 : 0);
                boolean happened = appointment.attendance().isPresent()
                        || !appointment.times().equals(VisitTimes.NONE);
                if (happened) {
                    assertThat(row).as(after).isPresent();
                }
                row.ifPresent(visit -> same(after, appointment, visit));
                ordered(after, appointment);
            }

            private void same(String after, Appointment appointment, Visit visit) {
                assertThat(visit.clockRecord()).as(after).isEqualTo(appointment.clockRecord());
                assertThat(visit.times()).as(after).isEqualTo(appointment.times());
                boolean inRoom =
                        visit.calledIn().isPresent() && visit.finished().isEmpty();
                assertThat(visit.attendance())
                        .as(after)
                        .isEqualTo(inRoom ? Optional.empty() : appointment.attendance());
                assertThat(visit.calledInAgain())
                        .as(after)
                        .isEqualTo(appointment.calledInAgain().isPresent());
                assertThat(visit.date()).as(after).isEqualTo(appointment.place().date());
                if (!appointment.fitIn()) {
                    assertThat(visit.bookedStart())
                            .as(after)
                            .contains(appointment.place().start());
                }
            }

            private void ordered(String after, Appointment appointment) {
                List<Instant> known = Stream.of(
                                appointment.times().arrived(),
                                appointment.times().calledIn(),
                                appointment.times().finished(),
                                appointment.times().roomReady())
                        .filter(Objects::nonNull)
                        .toList();
                boolean inOrder = known.equals(known.stream().sorted().toList());
                assertThat(inOrder || !appointment.hasPlausibleTimes(LONDON, clock.instant()))
                        .as(after)
                        .isTrue();
            }

            /** Every row that a step may change, with its version. */
            private List<?> stored() {
                return Stream.of("appointment", "visit", "referral", "press")
                        .map(
                                table -> jdbc
                                        .queryForList(
                                                "select * from " + table + " where clinic_id = ?",
                                                clinic.id().value())
                                        .stream()
                                        .map(Object::toString)
                                        .sorted()
                                        .toList())
                        .toList();
            }

            private boolean named(String what, BookingResult result) {
                step = what;
                return isDone(result);
            }

            private <T> T any(T[] values) {
                return values[random.nextInt(values.length)];
            }
        }

        private static boolean isDone(BookingResult result) {
            return result instanceof Done;
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Pressing {
        OnH2Database() {
            super(
                    60,
                    List.of(
                            "press",
                            "offline",
                            "correct",
                            "undo",
                            "missed",
                            "late",
                            "findings",
                            "tick",
                            "out",
                            "again",
                            "cancel",
                            "confirm",
                            "error",
                            "move",
                            "close",
                            "reopen"));
        }
    }

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Pressing {
        OnPostgresDatabase() {
            super(6, List.of("press", "offline", "correct", "findings"));
        }
    }
}
