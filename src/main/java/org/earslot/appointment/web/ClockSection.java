package org.earslot.appointment.web;

import java.time.LocalDateTime;
import org.earslot.booking.Appointment;
import org.earslot.booking.Booking;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.RedFlagNotices;
import org.earslot.day.SecondTry;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** When an appointment is and what happened when, by the clinic's clock; and what may still be done now. */
@Component
class ClockSection {

    private final RedFlagNotices redFlags;
    private final Booking booking;
    private final CurrentClinic current;
    private final ClinicClock clock;

    ClockSection(RedFlagNotices redFlags, Booking booking, CurrentClinic current, ClinicClock clock) {
        this.redFlags = redFlags;
        this.booking = booking;
        this.current = current;
        this.clock = clock;
    }

    /** Puts it into the model; returns the four times. */
    LocalClock show(Model model, Appointment appointment) {
        ClinicId clinic = current.id();
        LocalDateTime start = clock.local(clinic, appointment.place().start());
        LocalClock times = LocalClock.of(appointment.times(), clock.zone(clinic));
        model.addAttribute("start", start);
        model.addAttribute("end", clock.local(clinic, appointment.place().end()));
        model.addAttribute("bookedAt", clock.local(clinic, appointment.bookedAt()));
        model.addAttribute("times", times);
        model.addAttribute("redFlag", redFlags.of(appointment).orElse(null));
        model.addAttribute(
                "redFlagsAsked",
                appointment.redFlagsAskedAt().map(at -> clock.local(clinic, at)).orElse(null));
        model.addAttribute("plausible", appointment.hasPlausibleTimes(clock.zone(clinic), clock.now()));
        model.addAttribute("mayUndo", booking.mayUndo(appointment, current.who()));
        model.addAttribute("isPast", appointment.place().start().isBefore(clock.now()));
        model.addAttribute("isToday", appointment.place().date().equals(clock.today(clinic)));
        model.addAttribute(
                "steppedOut",
                appointment.steppedOut().map(at -> clock.local(clinic, at)).orElse(null));
        model.addAttribute(
                "backFrom",
                appointment
                        .steppedOut()
                        .map(at -> clock.local(clinic, at.plus(SecondTry.OUTSIDE)))
                        .orElse(null));
        model.addAttribute(
                "calledInAgain",
                appointment.calledInAgain().map(at -> clock.local(clinic, at)).orElse(null));
        return times;
    }
}
