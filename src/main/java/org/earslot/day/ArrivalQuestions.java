package org.earslot.day;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingConsequences;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.PlannedVisit;
import org.earslot.clinic.ClinicClock;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Service;

/** "Anything new since we booked?": asked as the patient arrives, by the same list as before booking. */
@Service
public class ArrivalQuestions {

    private final DiaryChange change;
    private final RunningDay running;
    private final Appointments appointments;
    private final Referrals referrals;
    private final Intake intake;
    private final RedFlagTriage triage;
    private final Patients patients;
    private final UnreferredVisits unreferred;
    private final BookingConsequences bookingConsequences;
    private final ClinicClock clock;

    ArrivalQuestions(
            DiaryChange change,
            RunningDay running,
            Appointments appointments,
            Referrals referrals,
            Intake intake,
            RedFlagTriage triage,
            Patients patients,
            UnreferredVisits unreferred,
            BookingConsequences bookingConsequences,
            ClinicClock clock) {
        this.change = change;
        this.running = running;
        this.appointments = appointments;
        this.referrals = referrals;
        this.intake = intake;
        this.triage = triage;
        this.patients = patients;
        this.unreferred = unreferred;
        this.bookingConsequences = bookingConsequences;
        this.clock = clock;
    }

    /**
     * The red flags that were never asked, and that no clinician has let pass. For wax without a referral that is each of
     * them; another kind of visit has none to ask.
     */
    public List<RedFlag> stillToAsk(Appointment appointment) {
        return referral(appointment)
                .map(triage::stillToAsk)
                .orElseGet(() -> appointment.isWaxWithoutReferral() ? RedFlag.stopping() : List.of());
    }

    /** Checks in with the one press "nothing new". It answers nothing if the list itself was never asked in full. */
    public BookingResult checkInNothingNew(UUID clinicId, UUID appointmentId, String who) {
        return change.whole(
                () -> asked(running.record(clinicId, appointmentId, ClockEvent.ARRIVED), clinicId, appointmentId, who));
    }

    /** The same, for a press that brings its own key and age. */
    public BookingResult checkInNothingNew(UUID clinicId, ClockCommand press, String who) {
        return change.whole(() -> asked(running.press(clinicId, press, who), clinicId, press.appointmentId(), who));
    }

    /**
     * Records what was answered, and checks the patient in if that is still to be done. Whoever answers with a yes is
     * here all the same: the arrival counts, and a clinician decides.
     *
     * @param answers what was answered to each red flag
     * @param words what was said in own words; null for nothing
     */
    public BookingResult answer(UUID clinicId, UUID appointmentId, RedFlagAnswers said, String who) {
        return change.whole(() -> {
            Optional<Appointment> known = appointments.findByClinicIdAndId(clinicId, appointmentId);
            if (known.isPresent() && known.get().times().arrived() == null) {
                BookingResult arrived = running.record(clinicId, appointmentId, ClockEvent.ARRIVED);
                if (!(arrived instanceof Done)) {
                    return arrived;
                }
            }
            return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
                referral(appointment)
                        .or(() -> made(appointment, who))
                        .ifPresent(referral -> intake.answerRedFlags(referral, said, new Taker(who, null)));
                appointment.redFlagsAsked(who, clock.now());
                return change.stored(
                        appointment,
                        Optional.empty(),
                        "red-flags-asked",
                        said.stop() ? "something new" : "nothing new");
            });
        });
    }

    /**
     * Records that the list was asked as the patient was fitted in, just now.
     *
     * @param arrived what the fit-in answered
     */
    BookingResult askedAlready(UUID clinicId, BookingResult arrived, String who) {
        return arrived instanceof Done done ? asked(arrived, clinicId, done.appointmentId(), who) : arrived;
    }

    private BookingResult asked(BookingResult arrived, UUID clinicId, UUID appointmentId, String who) {
        if (!(arrived instanceof Done)) {
            return arrived;
        }
        return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
            if (!stillToAsk(appointment).isEmpty()
                    || appointment.redFlagsAskedAt().isPresent()) {
                return arrived;
            }
            appointment.redFlagsAsked(who, clock.now());
            return change.stored(appointment, Optional.empty(), "red-flags-asked", "nothing new");
        });
    }

    private Optional<Referral> made(Appointment appointment, String who) {
        return appointment
                .patientId()
                .filter(patient -> appointment.isWaxWithoutReferral())
                .flatMap(id -> patients.findByClinicIdAndId(appointment.clinicId(), id))
                .map(patient -> {
                    PlannedVisit planned = appointment.planned();
                    Referral referral = unreferred.referral(
                            patient,
                            appointment.fitInReason(),
                            Objects.requireNonNull(planned.method()),
                            Objects.requireNonNull(planned.ears()),
                            who);
                    appointment.serve(referral.id());
                    bookingConsequences.setReferralStatus(appointment, ReferralStatus.BOOKED);
                    return referral;
                });
    }

    private Optional<Referral> referral(Appointment appointment) {
        return appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id));
    }
}
