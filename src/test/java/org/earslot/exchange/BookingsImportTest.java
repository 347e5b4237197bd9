package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Attendance;
import org.earslot.exchange.imports.ApiImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.patient.Patients;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

class BookingsImportTest {

    private static final String HEADER =
            "booking_id,patient_ref,family_name,given_name,date_of_birth,date,start,slot_minutes,practitioner,room,"
                    + "method_planned,ears,right_wax_reported,cautions,status,note\n";
    private static final String TWO = HEADER
            + "B1,K1,Mossgrove,Ilva,1950-02-28,2026-03-03,09:00,30,P1,R1,manual_removal,both,sticky,tinnitus,booked,\n"
            + "B2,K2,Fernhollow,Ott,1948-11-02,2026-03-03,09:30,20,P1,R1,microsuction,left,,,pending,rings back\n";

    abstract static class Taking {

        @Autowired
        private ApiImport imports;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private Appointments appointments;

        @Autowired
        private Patients patients;

        @Autowired
        private SettableClock clock;

        @Autowired
        private BookingsExport export;

        private ClinicId clinic;

        @BeforeEach
        void opensAClinic() {
            clock.set(Instant.parse("2026-03-03T12:00:00Z"));
            clinic = clinics.open().id();
        }

        @Test
        void puts_bookings_into_the_diary_once() throws IOException {
            assertThat(take(TWO).accepted()).isEqualTo(2);
            ImportRun again = take(TWO);
            assertThat(again.accepted()).isZero();
            assertThat(again.repeats()).isEqualTo(2);
            Appointment first =
                    appointments.findByClinicIdAndBookingRef(clinic, "B1").orElseThrow();
            assertThat(first.holdsPlace()).isTrue();
            assertThat(first.planned().estimate()).isNotBlank();
            assertThat(patients.findByClinicIdAndLocalNumber(clinic, "K1")
                            .orElseThrow()
                            .displayName())
                    .isEqualTo("Mossgrove, Ilva");
            assertThat(appointments
                            .findByClinicIdAndBookingRef(clinic, "B2")
                            .orElseThrow()
                            .status())
                    .isEqualTo(AppointmentStatus.PENDING);
        }

        @Test
        void keeps_out_what_would_book_a_place_twice_and_what_cannot_be_read() throws IOException {
            ImportRun run = take(TWO
                    + "B3,K3,,,,2026-03-03,09:20,30,P1,R2,microsuction,both,,,booked,\n"
                    + "B4,K4,,,,2026-03-03,23:50,30,P1,R1,microsuction,both,,,booked,\n"
                    + "B5,K5,,,,2026-02-30,10:00,30,P1,R1,microsuction,both,,,booked,\n"
                    + "B6,K6,,,,2026-03-03,10:00,0,P1,R1,laser,both,,,perhaps,\n"
                    + "B7,K7,,,,2026-03-03,10:00,30,Nobody,R1,microsuction,both,,,booked,\n"
                    + "B1,K1,,,,2026-03-03,14:00,30,P1,R1,manual_removal,both,,,booked,\n");
            assertThat(run.accepted()).isEqualTo(2);
            assertThat(run.rejected()).isEqualTo(6);
            assertThat(appointments.findByClinicIdAndBookingRef(clinic, "B3")).isEmpty();
        }

        /** A number typed wrongly must not give one patient the bookings of another. */
        @Test
        void keeps_out_a_booking_for_somebody_else_under_a_known_number() throws IOException {
            take(TWO);
            ImportRun run = take(TWO.lines().findFirst().orElseThrow()
                    + "\nB9,K1,Wrongperson,Wanda,1999-09-09,2026-03-04,10:00,30,P1,R1,microsuction,both,,,booked,\n");
            assertThat(run.rejected()).isEqualTo(1);
            assertThat(appointments.findByClinicIdAndBookingRef(clinic, "B9")).isEmpty();
            assertThat(patients.findByClinicIdAndLocalNumber(clinic, "K1")
                            .orElseThrow()
                            .displayName())
                    .isEqualTo("Mossgrove, Ilva");
        }

        @Test
        void goes_out_as_it_came_in_and_comes_back_as_repeats() throws IOException {
            take(
                    TWO
                            + "B3,K3,=Oak,\"O, P\",,2026-03-04,10:00,20,P2,R2,microsuction,right,,,waitlist,\"rings, twice\"\n");
            String exported = exported();
            assertThat(exported.lines()).hasSize(4);
            assertThat(exported)
                    .contains("B1,K1,Mossgrove,Ilva,1950-02-28,,2026-03-03,09:00,30,P1,R1,manual_removal,both,sticky,")
                    .contains("B3,K3,'=Oak,\"O, P\",")
                    .contains(",waitlist,\"rings, twice\"");
            ImportRun again = take(exported);
            assertThat(again.repeats()).isEqualTo(3);

            clinic = clinics.open().id();
            assertThat(take(exported).accepted()).isEqualTo(3);
            assertThat(exported()).isEqualTo(exported);
        }

        @Test
        void knows_bookings_made_here_by_their_own_id() throws IOException {
            take(TWO);
            Appointment other =
                    appointments.findByClinicIdAndBookingRef(clinic, "B1").orElseThrow();
            BookedPlace place = new BookedPlace(
                    other.place().practitionerId(),
                    other.place().roomId(),
                    other.place().date(),
                    Instant.parse("2026-03-03T15:00:00Z"),
                    20);
            UUID made = UUID.randomUUID();
            appointments.save(Appointment.booked(made, clinic, other.planned(), place, "desk", clock.instant()));

            String exported = exported();
            assertThat(exported).contains("A" + made + ",K1,");
            assertThat(take(exported).repeats()).isEqualTo(3);
        }

        @Test
        void replaces_what_is_known_only_when_asked_and_only_what_is_to_come() throws IOException {
            take(TWO);
            String moved = HEADER + line("B1", "11:00", "hard");
            assertThat(take(moved).rejected()).isEqualTo(1);
            assertThat(take(ImportKind.BOOKINGS, moved, true).accepted()).isEqualTo(1);
            Appointment first =
                    appointments.findByClinicIdAndBookingRef(clinic, "B1").orElseThrow();
            assertThat(first.place().start()).isEqualTo(Instant.parse("2026-03-03T11:00:00Z"));
            assertThat(exported()).contains(",hard,");
            assertThat(take(ImportKind.BOOKINGS, moved, true).repeats()).isEqualTo(1);

            String onTheOther = HEADER + line("B1", "09:30", "hard");
            assertThat(take(ImportKind.BOOKINGS, onTheOther, true).rejected()).isEqualTo(1);

            take(
                    ImportKind.VISIT_LOG,
                    "visit_id,patient_ref,date,practitioner,room,attendance,method_planned,ears\n"
                            + "B1,K1,2026-03-03,P1,R1,attended,manual_removal,both\n");
            assertThat(take(ImportKind.BOOKINGS, HEADER + line("B1", "12:00", "hard"), true)
                            .rejected())
                    .isEqualTo(1);
        }

        private static String line(String id, String start, String wax) {
            return id + ",K1,Mossgrove,Ilva,1950-02-28,2026-03-03," + start + ",30,P1,R1,manual_removal,both," + wax
                    + ",tinnitus,booked,\n";
        }

        private String exported() throws IOException {
            StringBuilder out = new StringBuilder();
            export.write(clinic, Optional.empty(), out);
            return out.toString();
        }

        @Test
        void joins_a_visit_that_comes_in_later_to_its_booking() throws IOException {
            take(TWO);
            take(
                    ImportKind.VISIT_LOG,
                    "visit_id,patient_ref,date,practitioner,room,attendance,method_planned,ears,booked_start,slot_minutes,"
                            + "arrived,called_in,finished,room_ready\n"
                            + "B1,K1,2026-03-03,P1,R1,attended,manual_removal,both,09:00,30,08:55,09:01,09:44,09:48\n"
                            + "B2,K2,2026-03-03,P1,R1,did_not_attend,microsuction,left,09:30,20,,,,\n");
            Appointment seen =
                    appointments.findByClinicIdAndBookingRef(clinic, "B1").orElseThrow();
            assertThat(seen.status()).isEqualTo(AppointmentStatus.FULFILLED);
            assertThat(seen.times().finished()).isEqualTo(Instant.parse("2026-03-03T09:44:00Z"));
            assertThat(seen.visitId()).isPresent();
            Appointment missed =
                    appointments.findByClinicIdAndBookingRef(clinic, "B2").orElseThrow();
            assertThat(missed.attendance()).contains(Attendance.DID_NOT_ATTEND);
            assertThat(missed.holdsPlace()).isFalse();
        }

        private ImportRun take(String text) throws IOException {
            return take(ImportKind.BOOKINGS, text);
        }

        private ImportRun take(ImportKind kind, String text) throws IOException {
            return take(kind, text, false);
        }

        private ImportRun take(ImportKind kind, String text, boolean update) throws IOException {
            return imports.take(
                    new ImportTerms(clinic, "test", kind, false, false, update),
                    new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)));
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Taking {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Taking {}
}
