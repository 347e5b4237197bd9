package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.YearMonth;
import java.util.UUID;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.offers.FirstFreePlace;
import org.earslot.referral.Referral;
import org.earslot.review.ListedVisit;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** How long referrals waited for their first appointment, and how soon a place is free, on both databases. */
class ReferralsBookedTest {

    private static final YearMonth MARCH = YearMonth.of(2026, 3);
    private static final LocalDate WEDNESDAY = DiaryFixture.WEDNESDAY;

    abstract static class Waiting {

        @Autowired
        private ReferralsBooked booked;

        @Autowired
        private FirstFreePlace places;

        @Autowired
        private DiaryFixture diary;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private JdbcClient database;

        @Autowired
        private SettableClock clock;

        private TestClinic clinic;

        @BeforeEach
        void a_clinic_on_a_tuesday_in_march() {
            clock.set(Instant.parse("2026-03-03T09:00:00Z"));
            clinic = clinics.open();
        }

        @Test
        void counts_from_received_to_the_day_of_the_first_appointment_booked_in_the_month() {
            // Received on 20 February: 12 and 26 days.
            diary.appointment(clinic, WEDNESDAY.atTime(9, 0), 20);
            diary.appointment(clinic, WEDNESDAY.plusDays(14).atTime(9, 0), 20);
            WeeksToAppointment weeks = in(MARCH, Scope.EVERYONE);
            assertThat(weeks.referrals()).isEqualTo(2);
            assertThat(weeks.median()).isEqualTo(19 / 7.0);
            assertThat(in(MARCH.minusMonths(1), Scope.EVERYONE)).isEqualTo(WeeksToAppointment.NONE);
            assertThat(in(MARCH, new Scope(clinic.p2()))).isEqualTo(WeeksToAppointment.NONE);
            assertThat(in(MARCH, new Scope(clinic.p1())).referrals()).isEqualTo(2);
            assertThat(booked.in(clinics.open().id(), MARCH, ListedVisit.LONDON, Scope.EVERYONE))
                    .isEqualTo(WeeksToAppointment.NONE);
        }

        @Test
        void counts_a_referral_once_with_the_appointment_booked_first() {
            Referral referral = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID first = diary.appointment(
                    clinic, referral, diary.place(clinic, WEDNESDAY.plusDays(7).atTime(9, 0), 20));
            database.sql("update appointment set status = 'cancelled', holds_place = false where id = ?")
                    .param(first)
                    .update();
            clock.advance(Duration.ofMinutes(5));
            diary.appointment(clinic, referral, diary.place(clinic, WEDNESDAY.atTime(9, 0), 20));
            assertThat(in(MARCH, Scope.EVERYONE).median()).isEqualTo(19 / 7.0);
            database.sql("update appointment set status = 'entered-in-error' where id = ?")
                    .param(first)
                    .update();
            assertThat(in(MARCH, Scope.EVERYONE).median()).isEqualTo(12 / 7.0);
        }

        @Test
        void counts_the_earlier_of_two_appointments_booked_at_one_time() {
            Referral referral = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
            UUID far = diary.appointment(
                    clinic, referral, diary.place(clinic, WEDNESDAY.plusDays(14).atTime(9, 0), 20));
            database.sql("update appointment set status = 'cancelled', holds_place = false where id = ?")
                    .param(far)
                    .update();
            diary.appointment(clinic, referral, diary.place(clinic, WEDNESDAY.atTime(9, 0), 20));
            assertThat(in(MARCH, Scope.EVERYONE)).isEqualTo(new WeeksToAppointment(1, 12 / 7.0, null, null));
        }

        @Test
        void finds_the_first_place_that_holds_the_slot_with_anyone() {
            LocalDateTime now = LocalDate.of(2026, 3, 3).atTime(9, 0);
            assertThat(places.of(clinic.id(), 30)).contains(now);
            diary.appointment(
                    clinic,
                    diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH),
                    diary.place(clinic, now.plusMinutes(15), 60));
            diary.appointment(
                    clinic,
                    diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH),
                    diary.secondPlace(clinic, now.plusMinutes(20), 60));
            assertThat(places.of(clinic.id(), 20)).contains(now);
            assertThat(places.of(clinic.id(), 30)).contains(now.plusMinutes(75));
            clock.set(Instant.parse("2026-03-06T17:30:00Z"));
            assertThat(places.of(clinic.id(), 30))
                    .contains(LocalDate.of(2026, 3, 9).atTime(9, 0));
            assertThat(places.of(clinic.id(), 179)).isPresent();
            assertThat(places.of(clinic.id(), 600)).isEmpty();
        }

        private WeeksToAppointment in(YearMonth month, Scope whose) {
            return booked.in(clinic.id(), month, ListedVisit.LONDON, whose);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Waiting {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Waiting {}
}
