package org.earslot.offers;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.SessionException;
import org.earslot.clinic.SessionExceptions;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.policy.Policies;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.support.TransactionTemplate;

/** Offers through the service: by the whole list, to the end, and today while the list runs. */
class OffersAtTheDeskTest {

    private static final LocalDate TUESDAY = LocalDate.of(2026, 3, 3);
    private static final LocalDate WEDNESDAY = DiaryFixture.WEDNESDAY;

    abstract static class Desk {
        @Autowired
        private Slots slots;

        @Autowired
        private Booking booking;

        @Autowired
        private RunningDay running;

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private SessionExceptions exceptions;

        @Autowired
        private Policies policies;

        @Autowired
        private Kit kit;

        @Autowired
        private SettableClock clock;

        @Autowired
        private JdbcTemplate jdbc;

        @Autowired
        private TransactionTemplate transaction;

        private TestClinic clinic;

        @BeforeEach
        void tuesday_nine_o_clock() {
            clock.set(Instant.parse("2026-03-03T09:00:00Z"));
            clinic = clinics.open();
        }

        private Referral referral() {
            return fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        }

        private List<Offer> offers(SlotWish wish) {
            return ((Offers) slots.search(clinic.id(), wish)).best();
        }

        private SlotWish on(LocalDate from, LocalDate to, @Nullable UUID practitioner) {
            return on(from, to, practitioner, referral());
        }

        private SlotWish on(LocalDate from, LocalDate to, @Nullable UUID practitioner, Referral of) {
            return new SlotWish(of.id(), null, from, to, practitioner, PartOfDay.ANY, Slots.MOST_OFFERS);
        }

        private void eachCanBeBooked(List<Offer> offers) {
            for (Offer offer : offers) {
                BookingResult result =
                        booking.book(clinic.id(), new OfReferral(referral().id(), offer.place()), "r");
                assertThat(result).as("%s", offer).isInstanceOf(Done.class);
                booking.undo(clinic.id(), ((Done) result).appointmentId(), 0, "r");
            }
        }

        /** Books some of what is offered and some starts of its own, so that gaps of all lengths are left. */
        private void fill(Random random, int visits) {
            for (int i = 0; i < visits; i++) {
                LocalDate day = WEDNESDAY.plusDays(random.nextInt(2));
                LocalDateTime start = day.atTime(9, 0).plusMinutes(5L * random.nextInt(90));
                boolean first = random.nextBoolean();
                int minutes = 10 + 5 * random.nextInt(6);
                AskedPlace place =
                        first ? fixture.place(clinic, start, minutes) : fixture.secondPlace(clinic, start, minutes);
                booking.book(clinic.id(), new OfReferral(referral().id(), place), "r");
            }
        }

        private void offerToTheEnd() {
            transaction.executeWithoutResult(
                    any -> policies.findById(clinic.id()).orElseThrow().offerByWholeList(false));
        }

        @Test
        void whatever_is_booked_each_offer_can_be_booked() {
            for (long seed = 1; seed <= 3; seed++) {
                clinic = clinics.open();
                fill(new Random(seed), 24);
                List<Offer> byList = offers(on(WEDNESDAY, WEDNESDAY.plusDays(1), null));
                assertThat(byList).as("seed %d", seed).isNotEmpty().doesNotHaveDuplicates();
                assertThat(byList).extracting(Offer::whenFull).containsOnly(true);
                eachCanBeBooked(byList);
                offerToTheEnd();
                List<Offer> toTheEnd = offers(on(WEDNESDAY, WEDNESDAY.plusDays(1), null));
                assertThat(toTheEnd).as("seed %d, to the end", seed).isNotEmpty();
                assertThat(toTheEnd).extracting(Offer::whenFull).containsOnly(false);
                eachCanBeBooked(toTheEnd);
            }
        }

        @Test
        void whatever_is_booked_each_offer_finds_its_movable_unit() {
            for (long seed = 4; seed <= 6; seed++) {
                clinic = clinics.open();
                kit.unit(clinic.id(), Optional.empty(), "Suction", Method.MICROSUCTION, null, true);
                fill(new Random(seed), 24);
                List<Offer> byList = offers(on(WEDNESDAY, WEDNESDAY.plusDays(1), null));
                assertThat(byList).as("seed %d", seed).isNotEmpty().doesNotHaveDuplicates();
                eachCanBeBooked(byList);
                offerToTheEnd();
                List<Offer> toTheEnd = offers(on(WEDNESDAY, WEDNESDAY.plusDays(1), null));
                assertThat(toTheEnd).as("seed %d, to the end", seed).isNotEmpty();
                eachCanBeBooked(toTheEnd);
            }
        }

        @Test
        void a_day_fills_up_by_its_offers_and_then_says_so() {
            // Both ears and one in turn; once both ears fit nowhere, one still may.
            int booked = 0;
            int refused = 0;
            for (int turn = 0; refused < 2 && turn < 60; turn++) {
                Referral next = fixture.referral(clinic, Method.MICROSUCTION, turn % 2 == 0 ? Ears.BOTH : Ears.RIGHT);
                List<Offer> offers = offers(on(WEDNESDAY, WEDNESDAY, clinic.p1(), next));
                if (offers.isEmpty()) {
                    refused++;
                    continue;
                }
                AskedPlace place = offers.get(0).place();
                assertThat(booking.book(clinic.id(), new OfReferral(next.id(), place), "r"))
                        .isInstanceOf(Done.class);
                booked++;
                refused = 0;
            }
            assertThat(refused).isEqualTo(2);
            // 450 minutes; slots of 10 to 90 minutes.
            assertThat(booked).isBetween(9, 45);
        }

        @Test
        void to_the_end_goes_on_after_the_last_booked() {
            offerToTheEnd();
            fixture.appointment(clinic, WEDNESDAY.atTime(9, 0), 30);
            fixture.appointment(clinic, WEDNESDAY.atTime(9, 30), 30);
            List<Offer> offers = offers(on(WEDNESDAY, WEDNESDAY, clinic.p1()));
            assertThat(offers).hasSize(1).allSatisfy(offer -> {
                assertThat(offer.start()).isAfterOrEqualTo(LocalTime.of(10, 0)).isBefore(LocalTime.of(11, 0));
                assertThat(offer.last()).isTrue();
                assertThat(offer.addedWaitMinutes()).isZero();
            });
        }

        @Test
        void today_begins_at_the_present_time_and_behind_who_is_in_the_room() {
            UUID long1 = fixture.appointment(clinic, TUESDAY.atTime(9, 0), 30);
            UUID next = fixture.appointment(clinic, TUESDAY.atTime(9, 30), 30);
            List<Offer> plan = offers(on(TUESDAY, TUESDAY, clinic.p1()));
            assertThat(plan).isNotEmpty();
            happen(long1, "09:00", ClockEvent.ARRIVED);
            happen(long1, "09:05", ClockEvent.CALLED_IN);
            happen(next, "09:25", ClockEvent.ARRIVED);
            clock.set(Instant.parse("2026-03-03T10:02:00Z"));
            List<Offer> late = offers(on(TUESDAY, TUESDAY, clinic.p1()));
            assertThat(late).isNotEmpty().allSatisfy(offer -> {
                assertThat(offer.start()).isAfterOrEqualTo(LocalTime.of(10, 2));
                assertThat(offer.whenFull()).isFalse();
            });
            Offer first = late.stream()
                    .min(java.util.Comparator.comparing(Offer::start))
                    .orElseThrow();
            assertThat(first.start()).isEqualTo(LocalTime.of(10, 5));
            assertThat(first.ownWaitMinutes())
                    .as("one in the room for 57 min, one waiting")
                    .isGreaterThan(10);
            eachCanBeBooked(late);
            clock.set(Instant.parse("2026-03-03T17:01:00Z"));
            assertThat(offers(on(TUESDAY, TUESDAY, clinic.p1()))).isEmpty();
        }

        @Test
        void a_fit_in_of_today_counts() {
            clock.set(Instant.parse("2026-03-03T09:58:00Z"));
            double before = firstToday().ownWaitMinutes();
            AskedPlace place = fixture.place(clinic, TUESDAY.atTime(9, 58), 20);
            BookingResult fitIn =
                    booking.book(clinic.id(), new OfFitIn(referral().id(), null, null, null, "pain", place), "r");
            happen(((Done) fitIn).appointmentId(), "09:58", ClockEvent.ARRIVED);
            assertThat(firstToday().ownWaitMinutes()).isGreaterThan(before + 5);
        }

        private Offer firstToday() {
            return offers(on(TUESDAY, TUESDAY, clinic.p1())).stream()
                    .min(java.util.Comparator.comparing(Offer::start))
                    .orElseThrow();
        }

        @Test
        void a_closed_day_and_a_day_off_are_not_offered() {
            jdbc.update(
                    "insert into clinic_day (clinic_id, day_date, closed_at) values (?, ?, current_timestamp)",
                    clinic.id().value(),
                    WEDNESDAY);
            exceptions.save(SessionException.closed(
                    UUID.randomUUID(), clinic.id(), WEDNESDAY.plusDays(1), clinic.p1(), "training"));
            assertThat(offers(on(WEDNESDAY, WEDNESDAY.plusDays(2), clinic.p1())))
                    .isNotEmpty()
                    .extracting(offer -> offer.session().date())
                    .containsOnly(WEDNESDAY.plusDays(2));
        }

        @Test
        void nobody_is_offered_the_hour_in_which_the_clocks_change() {
            clock.set(Instant.parse("2026-03-27T09:00:00Z"));
            LocalDate sunday = LocalDate.of(2026, 3, 29);
            exceptions.save(SessionException.extra(
                    UUID.randomUUID(),
                    clinic.id(),
                    sunday,
                    clinic.p1(),
                    clinic.r1(),
                    new TimeSpan(LocalTime.of(0, 30), LocalTime.of(3, 0)),
                    null,
                    "backlog"));
            List<Offer> offers = offers(on(sunday, sunday, null));
            assertThat(offers).isNotEmpty().allSatisfy(offer -> {
                LocalDateTime start = sunday.atTime(offer.start());
                var from = start.atZone(ZoneId.of("Europe/London"));
                assertThat(from.toLocalDateTime()).isEqualTo(start);
                assertThat(from.plus(Duration.ofMinutes(offer.slotMinutes())).toLocalDateTime())
                        .isEqualTo(start.plusMinutes(offer.slotMinutes()));
            });
            eachCanBeBooked(offers);
        }

        @Test
        void a_room_that_somebody_else_has_is_not_offered() {
            // Both practitioners in one room on Saturday; the one's booking blocks the other.
            LocalDate saturday = LocalDate.of(2026, 3, 7);
            for (UUID practitioner : List.of(clinic.p1(), clinic.p2())) {
                exceptions.save(SessionException.extra(
                        UUID.randomUUID(),
                        clinic.id(),
                        saturday,
                        practitioner,
                        clinic.r1(),
                        new TimeSpan(LocalTime.of(9, 0), LocalTime.of(12, 0)),
                        null,
                        "backlog"));
            }
            fixture.appointment(clinic, saturday.atTime(9, 0), 90);
            List<Offer> offers = offers(on(saturday, saturday, clinic.p2()));
            assertThat(offers)
                    .isNotEmpty()
                    .allSatisfy(offer -> assertThat(offer.start()).isAfterOrEqualTo(LocalTime.of(10, 30)));
            eachCanBeBooked(offers);
        }

        @Test
        void what_must_follow_and_the_softener_bound_the_days() {
            Referral referral = fixture.referral(
                    clinic,
                    DiaryFixture.details(
                            Method.MICROSUCTION, Ears.BOTH, WEDNESDAY.plusDays(5), WEDNESDAY.plusDays(7), null));
            Offers found = (Offers) slots.search(clinic.id(), SlotWish.of(referral.id()));
            assertThat(found.best()).isNotEmpty();
            assertThat(found.best().stream()
                            .map(offer -> offer.session().date())
                            .distinct())
                    .allSatisfy(date -> assertThat(date).isBetween(WEDNESDAY.plusDays(5), WEDNESDAY.plusDays(7)));
            assertThat(found.to()).isEqualTo(WEDNESDAY.plusDays(7));
        }

        @Test
        void a_slot_is_between_its_mean_and_what_was_advised() {
            for (int hour : new int[] {9, 11, 14, 16}) {
                fixture.appointment(clinic, WEDNESDAY.atTime(hour, 20), 30);
            }
            SlotWish wish = on(WEDNESDAY, WEDNESDAY, clinic.p1());
            Offers found = (Offers) slots.search(clinic.id(), wish);
            var estimate = found.estimates().get(clinic.p1());
            assertThat(found.best())
                    .isNotEmpty()
                    .allSatisfy(offer -> assertThat(offer.slotMinutes())
                            .isLessThanOrEqualTo(estimate.slotMinutes())
                            .isGreaterThan((int) estimate.inRoom().mean() - 5));
        }

        private void happen(UUID id, String time, ClockEvent event) {
            clock.set(Instant.parse("2026-03-03T" + time + ":00Z"));
            assertThat(running.record(clinic.id(), id, event)).isInstanceOf(Done.class);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Desk {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Desk {}
}
