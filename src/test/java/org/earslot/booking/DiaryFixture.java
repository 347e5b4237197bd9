package org.earslot.booking;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.BookingResult.Done;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.day.Findings;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.page.FormVersion;
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
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Patients, referrals and bookings of invented clinics, reached by the rooms' own verbs. */
@Component
public class DiaryFixture {

    /** A Wednesday; the settable clock starts on the Tuesday before at 09:00. */
    public static final LocalDate WEDNESDAY = LocalDate.of(2026, 3, 4);

    private final Patients patients;
    private final Referrals referrals;
    private final Booking booking;
    private final Appointments appointments;
    private final Visits visits;
    private final Optional<SettableClock> clock;

    DiaryFixture(
            Patients patients,
            Referrals referrals,
            Booking booking,
            Appointments appointments,
            Visits visits,
            Optional<SettableClock> clock) {
        this.patients = patients;
        this.referrals = referrals;
        this.booking = booking;
        this.appointments = appointments;
        this.visits = visits;
        this.clock = clock;
    }

    /** A form of findings, opened just before it is sent: it carries the version of what is recorded now. */
    public RequestPostProcessor justOpened() {
        return request -> {
            UUID id = UUID.fromString(request.getRequestURI().split("/")[2]);
            request.setParameter(
                    FormVersion.FIELD,
                    Findings.version(appointments
                                    .findById(id)
                                    .flatMap(Appointment::visitId)
                                    .flatMap(visits::findById))
                            .text());
            return request;
        };
    }

    public Patient patient(TestClinic clinic, String family, String given) {
        PatientDetails details = new PatientDetails(
                family,
                given,
                LocalDate.of(1951, 5, 17),
                null,
                null,
                null,
                Answer.NOT_KNOWN,
                ContactRoute.CALL,
                null,
                null,
                null,
                null,
                Answer.YES);
        String number = "T" + UUID.randomUUID().toString().substring(0, 8);
        return patients.save(new Patient(UUID.randomUUID(), clinic.id(), number, details, now()));
    }

    /** A routine referral, ready to book. */
    public Referral referral(TestClinic clinic, Method method, Ears ears) {
        return referral(clinic, details(method, ears, null, null, null));
    }

    public Referral referral(TestClinic clinic, ReferralDetails details) {
        return referral(clinic, patient(clinic, "Testley", "Pat"), details);
    }

    /** What the details do not say of red flags was asked, and every answer is no. */
    public Referral referral(TestClinic clinic, Patient patient, ReferralDetails details) {
        return referrals.save(new Referral(UUID.randomUUID(), clinic.id(), patient.id(), asked(details), now()));
    }

    /** The same with every red flag asked: those without an answer get a no. */
    public static ReferralDetails asked(ReferralDetails details) {
        Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.noneOfThese());
        answers.putAll(details.redFlags().answers());
        return details.with(new RedFlagAnswers(answers, details.redFlags().words()));
    }

    public static ReferralDetails details(
            Method method,
            Ears ears,
            @Nullable LocalDate notBefore,
            @Nullable LocalDate followBy,
            @Nullable String redFlag) {
        return new ReferralDetails(
                new ReferralSource("Practice on the hill", LocalDate.of(2026, 2, 20), Origin.REFERRAL),
                new VisitRequest(
                        null,
                        Priority.ROUTINE,
                        ears,
                        method,
                        Answer.YES,
                        5,
                        notBefore,
                        null,
                        followBy == null ? null : "hearing test",
                        followBy,
                        Answer.NOT_KNOWN),
                new ReportedEars(
                        new EarFindings(Wax.HARD, Canal.NARROW, Depth.DEEP_CANAL, Occlusion.OCCLUDING),
                        EarFindings.UNKNOWN),
                new CautionAnswers(true, List.of(new AskedCaution(Caution.TINNITUS, null, null))),
                new RedFlagAnswers(Map.of(), redFlag));
    }

    private Instant now() {
        return clock.map(SettableClock::instant).orElseGet(Instant::now);
    }

    public AskedPlace place(TestClinic clinic, LocalDateTime start, int minutes) {
        return new AskedPlace(clinic.p1(), clinic.r1(), start, minutes);
    }

    public AskedPlace secondPlace(TestClinic clinic, LocalDateTime start, int minutes) {
        return new AskedPlace(clinic.p2(), clinic.r2(), start, minutes);
    }

    /** An appointment by microsuction of both ears, booked with the first practitioner. */
    public UUID appointment(TestClinic clinic, LocalDateTime start, int minutes) {
        return appointment(clinic, referral(clinic, Method.MICROSUCTION, Ears.BOTH), place(clinic, start, minutes));
    }

    public UUID appointment(TestClinic clinic, Referral referral, AskedPlace place) {
        BookingResult result =
                booking.book(clinic.id(), new BookingRequest.OfReferral(referral.id(), place), "receptionist");
        if (result instanceof Done done) {
            return done.appointmentId();
        }
        throw new AssertionError("not booked: " + result);
    }
}
