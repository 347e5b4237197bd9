package org.earslot.daysheet;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.PlannedVisit;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.Referrals;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.earslot.testing.TestClinics.TestClinic;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Books invented patients of a test clinic in London into a day. */
@Component
class BookedDay {

    private static final Instant BOOKED_AT = Instant.parse("2026-02-20T10:00:00Z");

    private final Patients patients;
    private final Referrals referrals;
    private final Appointments appointments;

    BookedDay(Patients patients, Referrals referrals, Appointments appointments) {
        this.patients = patients;
        this.referrals = referrals;
        this.appointments = appointments;
    }

    /** What one booking is of. */
    record Wish(
            String number,
            Method method,
            Ears ears,
            @Nullable Integer softenerDays,
            boolean cautionsAsked,
            List<AskedCaution> cautions,
            Set<Caution> cautionsNotKnown,
            boolean redFlagsAsked,
            @Nullable String phone) {

        Wish(
                String number,
                Method method,
                Ears ears,
                @Nullable Integer softenerDays,
                boolean cautionsAsked,
                List<AskedCaution> cautions) {
            this(number, method, ears, softenerDays, cautionsAsked, cautions, Set.of(), true, null);
        }

        static Wish of(String number, Method method, Ears ears) {
            return new Wish(number, method, ears, 5, true, List.of());
        }
    }

    UUID book(TestClinic clinic, UUID practitioner, UUID room, LocalDate date, String start, int slot, Wish wish) {
        Patient patient = patients.save(new Patient(
                UUID.randomUUID(),
                clinic.id(),
                wish.number(),
                new PatientDetails(
                        "Family" + wish.number(),
                        "Given",
                        LocalDate.of(1950, 1, 1),
                        wish.phone(),
                        null,
                        null,
                        Answer.NOT_KNOWN,
                        ContactRoute.NOT_KNOWN,
                        null,
                        null,
                        null,
                        null,
                        Answer.NO),
                BOOKED_AT));
        EarFindings reported = new EarFindings(Wax.HARD, Canal.NARROW, Depth.DEEP_CANAL, null);
        Referral referral = referrals.save(new Referral(
                UUID.randomUUID(),
                clinic.id(),
                patient.id(),
                new ReferralDetails(
                        new ReferralSource("Self", LocalDate.of(2026, 2, 1), Origin.REFERRAL),
                        new VisitRequest(
                                null,
                                Priority.ROUTINE,
                                wish.ears(),
                                wish.method(),
                                Answer.YES,
                                wish.softenerDays(),
                                null,
                                null,
                                null,
                                null,
                                Answer.NOT_KNOWN),
                        new ReportedEars(reported, EarFindings.UNKNOWN),
                        new CautionAnswers(wish.cautionsAsked(), wish.cautions(), wish.cautionsNotKnown(), List.of()),
                        new RedFlagAnswers(wish.redFlagsAsked() ? RedFlag.noneOfThese() : Map.of(), null)),
                BOOKED_AT));
        PlannedVisit planned =
                new PlannedVisit(referral.id(), patient.id(), null, wish.method(), wish.ears(), null, null);
        Instant at = date.atTime(LocalTime.parse(start))
                .atZone(ZoneId.of("Europe/London"))
                .toInstant();
        return appointments
                .save(Appointment.booked(
                        UUID.randomUUID(),
                        clinic.id(),
                        planned,
                        new BookedPlace(practitioner, room, date, at, slot),
                        "desk",
                        BOOKED_AT))
                .id();
    }
}
