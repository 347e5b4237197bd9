package org.earslot.booking;

import static org.earslot.booking.BookingRefusalCode.NO_REASON;
import static org.earslot.booking.BookingRefusalCode.PATIENT_DECEASED;
import static org.earslot.booking.BookingRefusalCode.RED_FLAGS_NOT_ASKED;
import static org.earslot.booking.BookingRefusalCode.RED_FLAG_TO_BE_SEEN;
import static org.earslot.booking.BookingRefusalCode.REFERRAL_NOT_READY;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingRequest.OfOtherVisit;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** From a request to what the appointment is for, with its estimated length; or every reason why not. */
@Component
public class Planning {

    private final Referrals referrals;
    private final Patients patients;
    private final OtherVisitKinds kinds;
    private final Estimates estimates;
    private final Appointments appointments;
    private final MethodSuitability suitability;
    private final OpenRedFlags openRedFlags;

    Planning(
            Referrals referrals,
            Patients patients,
            OtherVisitKinds kinds,
            Estimates estimates,
            Appointments appointments,
            MethodSuitability suitability,
            OpenRedFlags openRedFlags) {
        this.referrals = referrals;
        this.patients = patients;
        this.kinds = kinds;
        this.estimates = estimates;
        this.appointments = appointments;
        this.suitability = suitability;
        this.openRedFlags = openRedFlags;
    }

    /** What was planned; not to be used where there are refusals. */
    public record Planned(@Nullable PlannedVisit visit, AskedPlace place, List<BookingRefusal> refusals) {

        public PlannedVisit agreed() {
            if (visit == null) {
                throw new IllegalStateException("nothing was planned");
            }
            return visit;
        }
    }

    public Planned plan(ClinicId clinicId, BookingRequest request) {
        if (request instanceof OfReferral asked) {
            return ofReferral(clinicId, asked);
        }
        return request instanceof OfOtherVisit asked
                ? ofOtherVisit(clinicId, asked)
                : ofFitIn(clinicId, (OfFitIn) request);
    }

    /** The same visit by another practitioner: with that one's estimated length. */
    public PlannedVisit doneBy(Appointment appointment, UUID practitionerId) {
        PlannedVisit before = appointment.planned();
        Optional<Referral> referral =
                appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id));
        if (referral.isEmpty() || appointment.place().practitionerId().equals(practitionerId)) {
            return before;
        }
        return wax(referral.get(), estimate(referral.get(), practitionerId));
    }

    /** Why an appointment's referral forbids that date, if so. */
    public List<BookingRefusal> stillSuits(Appointment appointment, LocalDate date) {
        return appointment
                .referralId()
                .flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id))
                .map(referral -> unfit(referral, date))
                .orElse(List.of());
    }

    /** Why a referral cannot be booked on that date, if so. */
    public List<BookingRefusal> bookable(Referral referral, LocalDate date) {
        List<BookingRefusal> refusals = new ArrayList<>();
        standing(referral).ifPresent(refusals::add);
        refusals.addAll(unfit(referral, date));
        return refusals;
    }

    /** Why a referral cannot be booked on any date, if so. */
    public Optional<BookingRefusal> standing(Referral referral) {
        Optional<BookingRefusal> booked = appointmentOf(referral).map(BookingRefusal::alreadyBooked);
        if (booked.isPresent()) {
            return booked;
        }
        if (referral.status() == ReferralStatus.CLOSED) {
            return Optional.of(BookingRefusal.of(REFERRAL_NOT_READY));
        }
        boolean toBeSeen = openRedFlags.of(referral.clinicId(), referral.patientId()).stream()
                .anyMatch(one -> one.referralId().equals(referral.id()));
        return closedTo(referral.clinicId(), referral.patientId())
                .or(() -> referral.status() == ReferralStatus.TO_TRIAGE && !toBeSeen
                        ? Optional.of(BookingRefusal.of(RED_FLAGS_NOT_ASKED))
                        : Optional.empty());
    }

    /** Why nothing is booked or moved for the person, whatever the referral: recorded as deceased, or a red flag. */
    public Optional<BookingRefusal> closedTo(ClinicId clinicId, @Nullable UUID patientId) {
        return deceased(clinicId, patientId).or(() -> redFlagUndecided(clinicId, patientId));
    }

    /** Whether a red flag of the person waits for a clinician's decision, whichever referral it was raised by. */
    public Optional<BookingRefusal> redFlagUndecided(ClinicId clinicId, @Nullable UUID patientId) {
        return Optional.ofNullable(patientId)
                .filter(id -> openRedFlags.hold(clinicId, id))
                .map(id -> BookingRefusal.redFlagOpen(openRedFlags
                        .undecided(clinicId, id)
                        .flatMap(openRedFlags::clinician)
                        .orElse(null)));
    }

    /**
     * Why an appointment is not moved along with others of its day, whoever proposes it: besides what stops any move, a
     * red flag about which a clinician has decided to see the patient here, so that a person moves that visit by itself.
     */
    public Optional<BookingRefusal> notMovedWithOthers(Appointment appointment) {
        ClinicId clinicId = appointment.clinicId();
        UUID patientId = appointment.patientId().orElse(null);
        return closedTo(clinicId, patientId)
                .or(() -> patientId == null
                                || openRedFlags.of(clinicId, patientId).isEmpty()
                        ? Optional.empty()
                        : Optional.of(BookingRefusal.of(RED_FLAG_TO_BE_SEEN)));
    }

    /** Whether the person is recorded as deceased. */
    public Optional<BookingRefusal> deceased(ClinicId clinicId, @Nullable UUID patientId) {
        return Optional.ofNullable(patientId)
                .flatMap(id -> patients.findByClinicIdAndId(clinicId, id))
                .filter(Patient::deceased)
                .map(patient -> BookingRefusal.of(PATIENT_DECEASED));
    }

    /** Why that date does not suit the referral: its softener days, or a caution that forbids the method then. */
    public List<BookingRefusal> unfit(Referral referral, LocalDate date) {
        List<BookingRefusal> unfit = new ArrayList<>();
        softener(referral, date).ifPresent(unfit::add);
        Method method = referral.details().request().methodPlanned();
        if (!suitability.allows(referral, method, date)) {
            unfit.add(BookingRefusal.methodContraindicated(method, date));
        }
        return unfit;
    }

    /** Whether the softener days of the referral are not over on that date. */
    private Optional<BookingRefusal> softener(Referral referral, LocalDate date) {
        return Optional.ofNullable(referral.details().request().notBefore())
                .filter(date::isBefore)
                .map(BookingRefusal::softenerNotOver);
    }

    private Optional<UUID> appointmentOf(Referral referral) {
        return appointments
                .findByClinicIdAndReferralIdInOrderByStartsAt(referral.clinicId(), List.of(referral.id()))
                .stream()
                .filter(other -> other.status().toCome() || other.status().present())
                .map(Appointment::id)
                .findFirst();
    }

    private Planned ofReferral(ClinicId clinicId, OfReferral asked) {
        AskedPlace place = asked.place();
        Optional<Referral> found = referrals.findByClinicIdAndId(clinicId, asked.referralId());
        if (found.isEmpty()) {
            return new Planned(null, place, List.of(BookingRefusal.unknown("referral")));
        }
        List<BookingRefusal> refusals = bookable(found.get(), place.date());
        return refusals.isEmpty()
                ? new Planned(wax(found.get(), estimate(found.get(), place.practitionerId())), place, refusals)
                : new Planned(null, place, refusals);
    }

    private Planned ofOtherVisit(ClinicId clinicId, OfOtherVisit asked) {
        List<BookingRefusal> refusals = new ArrayList<>();
        Optional<OtherVisitKind> kind =
                kinds.findByClinicIdAndId(clinicId, asked.kindId()).filter(OtherVisitKind::active);
        if (kind.isEmpty()) {
            refusals.add(BookingRefusal.unknown("kind"));
        }
        if (patients.findByClinicIdAndId(clinicId, asked.patientId()).isEmpty()) {
            refusals.add(BookingRefusal.unknown("patient"));
        }
        closedTo(clinicId, asked.patientId()).ifPresent(refusals::add);
        AskedPlace place =
                lasting(asked.place(), kind.map(OtherVisitKind::minutes).orElse(1));
        return new Planned(
                new PlannedVisit(null, asked.patientId(), asked.kindId(), null, null, null, null), place, refusals);
    }

    private Planned ofFitIn(ClinicId clinicId, OfFitIn asked) {
        List<BookingRefusal> refusals = new ArrayList<>();
        if (asked.reason().isBlank()) {
            refusals.add(BookingRefusal.of(NO_REASON));
        }
        if (asked.referralId() != null) {
            Optional<Referral> found = referrals.findByClinicIdAndId(clinicId, asked.referralId());
            if (found.isEmpty()) {
                refusals.add(BookingRefusal.unknown("referral"));
                return new Planned(null, asked.place(), refusals);
            }
            refusals.addAll(bookable(found.get(), asked.place().date()));
            Estimate estimate = estimate(found.get(), asked.place().practitionerId());
            return new Planned(wax(found.get(), estimate), lasting(asked.place(), estimate.slotMinutes()), refusals);
        }
        return ofPatient(clinicId, asked, refusals);
    }

    private Planned ofPatient(ClinicId clinicId, OfFitIn asked, List<BookingRefusal> refusals) {
        Optional<Patient> patient =
                Optional.ofNullable(asked.patientId()).flatMap(id -> patients.findByClinicIdAndId(clinicId, id));
        if (patient.isEmpty()) {
            refusals.add(BookingRefusal.unknown("patient"));
        }
        closedTo(clinicId, asked.patientId()).ifPresent(refusals::add);
        if (asked.method() == null || asked.ears() == null) {
            refusals.add(BookingRefusal.unknown("method"));
        }
        if (!refusals.isEmpty() || asked.method() == null || asked.ears() == null) {
            return new Planned(null, asked.place(), refusals);
        }
        Estimate estimate = estimates.estimate(
                clinicId,
                VisitPlan.of(asked.method(), asked.ears()).doneBy(asked.place().practitionerId()));
        PlannedVisit visit = new PlannedVisit(
                null, asked.patientId(), null, asked.method(), asked.ears(), estimate.estimated(), estimate.version());
        return new Planned(visit, lasting(asked.place(), estimate.slotMinutes()), refusals);
    }

    private Estimate estimate(Referral referral, UUID practitionerId) {
        Patient patient = patients.findByClinicIdAndId(referral.clinicId(), referral.patientId())
                .orElse(null);
        return estimates.estimate(referral.clinicId(), VisitPlans.of(referral, patient, practitionerId));
    }

    private static PlannedVisit wax(Referral referral, Estimate estimate) {
        return new PlannedVisit(
                referral.id(),
                referral.patientId(),
                null,
                referral.details().request().methodPlanned(),
                referral.details().request().ears(),
                estimate.estimated(),
                estimate.version());
    }

    private static AskedPlace lasting(AskedPlace place, int minutes) {
        return new AskedPlace(place.practitionerId(), place.roomId(), place.start(), minutes);
    }
}
