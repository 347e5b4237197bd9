package org.earslot.day;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.DiaryChange;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagTriage;
import org.springframework.stereotype.Service;

/** "Anything new since we booked?": asked as the patient arrives, by the same list as before booking. */
@Service
public class ArrivalQuestions {

    private final DiaryChange change;
    private final RunningDay running;
    private final Appointments appointments;
    private final Intake intake;
    private final RedFlagTriage triage;
    private final ClinicClock clock;
    private final ServedReferrals served;

    ArrivalQuestions(
            DiaryChange change,
            RunningDay running,
            Appointments appointments,
            Intake intake,
            RedFlagTriage triage,
            ClinicClock clock,
            ServedReferrals served) {
        this.change = change;
        this.running = running;
        this.appointments = appointments;
        this.intake = intake;
        this.triage = triage;
        this.clock = clock;
        this.served = served;
    }

    /**
     * The red flags that were never asked, and that no clinician has let pass. For wax without a referral that is each of
     * them; another kind of visit has none to ask.
     */
    public List<RedFlag> stillToAsk(Appointment appointment) {
        return served.of(appointment)
                .map(triage::stillToAsk)
                .orElseGet(() -> appointment.isWaxWithoutReferral() ? RedFlag.stopping() : List.of());
    }

    /** Checks in with the one press "nothing new". It answers nothing if the list itself was never asked in full. */
    public BookingResult checkInNothingNew(ClinicId clinicId, UUID appointmentId, String who) {
        return change.whole(
                () -> asked(running.record(clinicId, appointmentId, ClockEvent.ARRIVED), clinicId, appointmentId, who));
    }

    /** The same, for a press that brings its own key and age. */
    public BookingResult checkInNothingNew(ClinicId clinicId, ClockCommand press, String who) {
        return change.whole(() -> asked(running.press(clinicId, press, who), clinicId, press.appointmentId(), who));
    }

    /**
     * Records what was answered, and checks the patient in if that is still to be done. Whoever answers with a yes is
     * here all the same: the arrival counts, and a clinician decides.
     *
     * @param answers what was answered to each red flag
     * @param words what was said in own words; null for nothing
     */
    public BookingResult answer(ClinicId clinicId, UUID appointmentId, RedFlagAnswers said, String who) {
        return change.whole(() -> {
            Optional<Appointment> known = appointments.findByClinicIdAndId(clinicId, appointmentId);
            if (known.isPresent() && known.get().times().arrived() == null) {
                BookingResult arrived = running.record(clinicId, appointmentId, ClockEvent.ARRIVED);
                if (!(arrived instanceof Done)) {
                    return arrived;
                }
            }
            return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
                served.ofOrMade(appointment, who)
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
    BookingResult askedAlready(ClinicId clinicId, BookingResult arrived, String who) {
        return arrived instanceof Done done ? asked(arrived, clinicId, done.appointmentId(), who) : arrived;
    }

    private BookingResult asked(BookingResult arrived, ClinicId clinicId, UUID appointmentId, String who) {
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
}
