package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.ALREADY_BOOKED;
import static org.earslot.booking.BookingRefusalCode.SLOT_TAKEN;
import static org.earslot.booking.BookingRefusalCode.UNIT_TAKEN;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.kit.Kit;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

/** Whatever many people press at once, a place is booked once and the others are told. */
class OnePlaceOneBookingTest {

    private static final int THREADS = 32;

    abstract static class Pressing {
        @Autowired
        private Booking booking;

        @Autowired
        private Appointments appointments;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private JdbcTemplate jdbc;

        @Autowired
        private Kit kit;

        @Test
        void books_one_of_32_who_ask_for_the_same_place() throws Exception {
            TestClinic clinic = clinics.open();
            List<Referral> referrals = IntStream.range(0, THREADS)
                    .mapToObj(i -> fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH))
                    .toList();
            List<BookingResult> results = together(referrals.stream()
                    .map(referral -> booking(clinic, referral, fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30)))
                    .toList());
            assertThat(results).filteredOn(Done.class::isInstance).hasSize(1);
            assertThat(results)
                    .filteredOn(NotDone.class::isInstance)
                    .hasSize(THREADS - 1)
                    .allSatisfy(result ->
                            assertThat(((NotDone) result).refusals()).containsExactly(BookingRefusal.of(SLOT_TAKEN)));
            assertThat(booked(clinic, WEDNESDAY)).hasSize(1);
        }

        @Test
        void books_every_place_once_when_32_ask_for_overlapping_places_of_new_days() throws Exception {
            TestClinic clinic = clinics.open();
            List<Callable<BookingResult>> asked = new ArrayList<>();
            for (int i = 0; i < THREADS; i++) {
                Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT);
                LocalDateTime start = WEDNESDAY.plusDays(i % 2).atTime(9, 0).plusMinutes(i / 2 % 8 * 10L);
                AskedPlace place =
                        i % 4 < 2 ? fixture.place(clinic, start, 20) : fixture.secondPlace(clinic, start, 20);
                asked.add(booking(clinic, referral, place));
            }
            List<BookingResult> results = together(asked);
            for (int day = 0; day < 2; day++) {
                List<Appointment> held = booked(clinic, WEDNESDAY.plusDays(day));
                assertThat(held).isNotEmpty();
                assertThat(held)
                        .allSatisfy(one -> assertThat(held)
                                .filteredOn(other -> overlap(one, other))
                                .containsExactly(one));
            }
            assertThat(results)
                    .filteredOn(Done.class::isInstance)
                    .hasSize(booked(clinic, WEDNESDAY).size()
                            + booked(clinic, WEDNESDAY.plusDays(1)).size());
        }

        @Test
        void books_a_referral_once_when_32_press_for_different_places() throws Exception {
            TestClinic clinic = clinics.open();
            Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT);
            List<Callable<BookingResult>> asked = IntStream.range(0, THREADS)
                    .mapToObj(i -> booking(
                            clinic,
                            referral,
                            fixture.place(clinic, WEDNESDAY.plusDays(i % 2).atTime(9 + i / 8, i % 4 * 15), 15)))
                    .toList();
            List<BookingResult> results = together(asked);
            assertThat(results).filteredOn(Done.class::isInstance).hasSize(1);
            assertThat(results)
                    .filteredOn(NotDone.class::isInstance)
                    .allSatisfy(result -> assertThat(((NotDone) result).refusals())
                            .extracting(BookingRefusal::why)
                            .contains(ALREADY_BOOKED));
        }

        @Test
        void moves_that_cross_each_other_all_come_to_an_end() throws Exception {
            TestClinic clinic = clinics.open();
            List<Callable<BookingResult>> asked = new ArrayList<>();
            for (int i = 0; i < THREADS; i++) {
                LocalDate from = WEDNESDAY.plusDays(i % 2);
                LocalDate to = WEDNESDAY.plusDays((i + 1) % 2);
                LocalDateTime start = from.atTime(9, 0).plusMinutes(i / 2 * 15L);
                UUID id = fixture.appointment(clinic, start, 15);
                AskedPlace place = fixture.place(clinic, to.atTime(13, 30).plusMinutes(i / 4 * 15L), 15);
                asked.add(() -> booking.move(clinic.id(), id, 0, place));
            }
            List<BookingResult> results = together(asked);
            // Two of each four ask for the same place of the same day: eight places a day, each won once.
            assertThat(results).filteredOn(Done.class::isInstance).hasSize(THREADS / 2);
            assertThat(results)
                    .filteredOn(NotDone.class::isInstance)
                    .allSatisfy(result ->
                            assertThat(((NotDone) result).only(SLOT_TAKEN)).isTrue());
        }

        List<Appointment> booked(TestClinic clinic, LocalDate date) {
            return appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinic.id(), date).stream()
                    .filter(Appointment::holdsPlace)
                    .toList();
        }

        @Test
        void gives_the_one_movable_unit_to_one_of_32_who_ask_for_it_in_two_rooms() throws Exception {
            TestClinic clinic = clinics.open();
            unit(clinic);
            List<Callable<BookingResult>> asked = new ArrayList<>();
            for (int i = 0; i < THREADS; i++) {
                Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
                LocalDateTime start = WEDNESDAY.atTime(10, 0).plusMinutes(i / 2 % 3 * 10L);
                AskedPlace place =
                        i % 2 == 0 ? fixture.place(clinic, start, 30) : fixture.secondPlace(clinic, start, 30);
                asked.add(booking(clinic, referral, place));
            }
            assertOneWon(together(asked));
            assertThat(booked(clinic, WEDNESDAY)).hasSize(1);
        }

        @Test
        void gives_the_one_movable_unit_to_one_of_two_moved_to_the_same_time() throws Exception {
            TestClinic clinic = clinics.open();
            unit(clinic);
            UUID first = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            UUID second = fixture.appointment(
                    clinic,
                    fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH),
                    fixture.secondPlace(clinic, WEDNESDAY.plusDays(1).atTime(10, 0), 30));
            AskedPlace in1 = fixture.place(clinic, WEDNESDAY.atTime(14, 0), 30);
            AskedPlace in2 = fixture.secondPlace(clinic, WEDNESDAY.atTime(14, 10), 30);
            assertOneWon(together(List.of(
                    () -> booking.move(clinic.id(), first, 0, in1), () -> booking.move(clinic.id(), second, 0, in2))));
        }

        void unit(TestClinic clinic) {
            assertThat(kit.unit(clinic.id(), Optional.empty(), "Suction on wheels", Method.MICROSUCTION, null, true))
                    .isEmpty();
        }

        static void assertOneWon(List<BookingResult> results) {
            assertThat(results).filteredOn(Done.class::isInstance).hasSize(1);
            assertThat(results)
                    .filteredOn(NotDone.class::isInstance)
                    .hasSize(results.size() - 1)
                    .allSatisfy(result -> assertThat(((NotDone) result).refusals())
                            .extracting(BookingRefusal::code)
                            .containsExactly("slot-taken"))
                    .anySatisfy(result ->
                            assertThat(((NotDone) result).only(UNIT_TAKEN)).isTrue());
        }

        Callable<BookingResult> booking(TestClinic clinic, Referral referral, AskedPlace place) {
            return () -> booking.book(clinic.id(), new OfReferral(referral.id(), place), "receptionist");
        }

        static boolean overlap(Appointment one, Appointment other) {
            return one.place().practitionerId().equals(other.place().practitionerId())
                    && one.place().start().isBefore(other.place().end())
                    && other.place().start().isBefore(one.place().end());
        }

        static List<BookingResult> together(List<Callable<BookingResult>> asked) throws Exception {
            ExecutorService threads = Executors.newFixedThreadPool(asked.size());
            CyclicBarrier gate = new CyclicBarrier(asked.size());
            try {
                List<Future<BookingResult>> futures = asked.stream()
                        .map(one -> threads.submit(() -> {
                            gate.await();
                            return one.call();
                        }))
                        .toList();
                List<BookingResult> results = new ArrayList<>();
                for (Future<BookingResult> future : futures) {
                    results.add(future.get(2, TimeUnit.MINUTES));
                }
                return results;
            } finally {
                threads.shutdownNow();
            }
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Pressing {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Pressing {

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private JdbcTemplate jdbc;

        @Autowired
        private DiaryChange change;

        @Test
        void the_database_itself_refuses_a_doubled_place_and_it_reads_as_taken() {
            TestClinic clinic = clinics.open();
            fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            UUID other = fixture.appointment(clinic, WEDNESDAY.atTime(11, 0), 30);
            // Past the day lock: straight into the table.
            BookingResult result = change.whole(() -> {
                jdbc.update("update appointment set starts_at = starts_at - interval '45 minutes' where id = ?", other);
                return new Done(other, 1);
            });
            assertThat(result).isEqualTo(BookingResult.refused(SLOT_TAKEN));
        }
    }
}
