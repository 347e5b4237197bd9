package org.earslot.day;

import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Predicate;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.DiaryChange;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.day.LateCard.Turn;
import org.springframework.stereotype.Service;

/** Whose turn it is, where that is not the order of the booked starts. */
@Service
public class Turns {

    private final DiaryChange change;
    private final Booking booking;
    private final RunningDay running;
    private final Appointments appointments;
    private final ClinicClock clock;

    Turns(DiaryChange change, Booking booking, RunningDay running, Appointments appointments, ClinicClock clock) {
        this.change = change;
        this.booking = booking;
        this.running = running;
        this.appointments = appointments;
        this.clock = clock;
    }

    /** Gives a patient who is here, or has said to come late, another turn than the booked start would. */
    public BookingResult give(ClinicId clinicId, UUID appointmentId, Turn turn) {
        return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
            if (!closed.isEmpty()) {
                return BookingResult.refused(BookingRefusal.dayClosed(closed.get(0)));
            }
            boolean onTheWay =
                    appointment.status().toCome() && appointment.comesAt().isPresent();
            if (!appointment.status().present() && !onTheWay) {
                return BookingResult.refused(BookingRefusal.notNow("turn", appointment.status()));
            }
            return change.stored(
                    appointment, appointment.takeTurn(turnOf(appointment, turn)), "turn-given", turn.code());
        });
    }

    /** Fits in a patient who is here, with that turn: booked, arrived and in order, or none of it. */
    public BookingResult fitIn(ClinicId clinicId, OfFitIn request, Turn turn, String who) {
        return change.whole(() -> {
            BookingResult booked = booking.book(clinicId, request, who);
            if (!(booked instanceof Done done)) {
                return booked;
            }
            BookingResult arrived = running.record(clinicId, done.appointmentId(), ClockEvent.ARRIVED);
            return arrived instanceof Done ? give(clinicId, done.appointmentId(), turn) : arrived;
        });
    }

    /**
     * Before everybody who waits, or just after the next one: the first who is here, else the first who is not late. Whoever
     * is still on the way waits with those who are due later.
     */
    private Instant turnOf(Appointment patient, Turn turn) {
        Instant now = clock.now();
        Instant from =
                patient.status().present() ? Instant.MIN : patient.comesAt().orElse(Instant.MIN);
        List<Appointment> waiting =
                appointments
                        .findByClinicIdAndClinicDateOrderByStartsAt(
                                patient.clinicId(), patient.place().date())
                        .stream()
                        .filter(each -> each.place()
                                .practitionerId()
                                .equals(patient.place().practitionerId()))
                        .filter(each -> !each.id().equals(patient.id()))
                        .filter(each -> each.status().toCome() || each.status().present())
                        .filter(each -> !each.turn().isBefore(from))
                        .sorted(Comparator.comparing(Appointment::turn))
                        .toList();
        if (turn == Turn.AFTER_NEXT) {
            return first(waiting, each -> each.status().present())
                    .or(() -> first(waiting, each -> !each.turn().isBefore(now)))
                    .or(() -> waiting.stream().findFirst())
                    .map(next -> next.turn().plusSeconds(1))
                    .orElse(from.isAfter(now) ? from : now);
        }
        if (from.isAfter(now)) {
            return from;
        }
        return waiting.stream()
                .findFirst()
                .map(each -> each.turn().minusSeconds(1))
                .filter(before -> before.isBefore(now))
                .orElse(now);
    }

    private static Optional<Appointment> first(List<Appointment> waiting, Predicate<Appointment> wanted) {
        return waiting.stream().filter(wanted).findFirst();
    }
}
