package org.earslot.booking;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.ear.Method;
import org.earslot.page.Reason;
import org.jspecify.annotations.Nullable;

/** Why the diary does not do what was asked; nothing was changed. Never holds a patient's details. */
public sealed interface BookingRefusal extends Reason {

    @Override
    default String code() {
        return BookingRefusalCode.of(this).code();
    }

    @Override
    default Kind kind() {
        return BookingRefusalCode.of(this).kind();
    }

    @Override
    default String messageKey() {
        return "booking.refusal." + BookingRefusalCode.of(this).wording();
    }

    /** The practitioner or the room is booked then. */
    record SlotTaken() implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }
    }

    /** Every movable unit that the method cannot do without serves another room then: to a program, a slot taken. */
    record UnitTaken(LocalDate date, LocalTime start, String units, LocalTime freeFrom) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(date + " " + start, units, freeFrom);
        }
    }

    /** Every unit that could serve the room is out of use: to a program, a slot taken. */
    record UnitOutOfUse(LocalDate date, LocalTime start, String units) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(date + " " + start, units);
        }
    }

    /** No session of that practitioner in that room holds the whole place clear of its break. */
    record OutsideSession(LocalDate date, LocalTime start, int slotMinutes) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(date + " " + start, slotMinutes);
        }
    }

    /** The practitioner does not hold the method. */
    record MethodNotHeld(Method method) implements BookingRefusal {
        @Override
        public String field() {
            return "practitioner";
        }

        @Override
        public List<Object> arguments() {
            return List.of(method);
        }
    }

    /** The practitioner does not see patients of that age; the values are the practitioner's, not the patient's. */
    record AgeNotSeen(int least, int most) implements BookingRefusal {
        @Override
        public String field() {
            return "practitioner";
        }

        @Override
        public List<Object> arguments() {
            return List.of(least, most);
        }
    }

    /** The start or the length is not on the clinic's grid. */
    record OffGrid(String field, String given, int gridMinutes) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(given, gridMinutes);
        }
    }

    /** The slot is shorter or longer than the clinic's policy allows. */
    record SlotLengthOutOfRange(int slotMinutes, int least, int most) implements BookingRefusal {
        @Override
        public String field() {
            return "slotMinutes";
        }

        @Override
        public List<Object> arguments() {
            return List.of(slotMinutes, least, most);
        }
    }

    /** The start is over. */
    record InThePast(LocalDate date, LocalTime start) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(date + " " + start);
        }
    }

    /** The diary is not open that far ahead. */
    record TooFarAhead(LocalDate date, LocalDate last) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(date, last);
        }
    }

    /** The clocks change within the place. */
    record ClocksChange(LocalDate date) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(date);
        }
    }

    /** The softener days are not over by then. */
    record SoftenerNotOver(LocalDate notBefore) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(notBefore);
        }
    }

    /** The referral is closed. */
    record ReferralNotReady() implements BookingRefusal {}

    /**
     * A red flag of the patient waits for a clinician's decision, by whichever referral it was raised.
     *
     * @param clinician who decides; null while nobody is named
     */
    record RedFlagOpen(@Nullable String clinician) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return clinician == null ? List.of() : List.of(clinician);
        }

        @Override
        public String messageKey() {
            return BookingRefusal.super.messageKey() + (clinician == null ? ".nobody" : "");
        }
    }

    /** A clinician sees the patient here about a red flag: that visit is moved by itself, never along with others. */
    record RedFlagToBeSeen() implements BookingRefusal {}

    /** The patient is recorded as deceased. */
    record PatientDeceased() implements BookingRefusal {}

    /** Not every red flag has been asked yet, and no clinician has decided to go on without. */
    record RedFlagsNotAsked() implements BookingRefusal {}

    /** The referral has that appointment already. */
    record AlreadyBooked(UUID appointmentId) implements BookingRefusal {
        @Override
        public Map<String, Object> members() {
            return Map.of("appointment", appointmentId);
        }
    }

    /** The method must not be used with a caution of this referral on that date. */
    record MethodContraindicated(Method method, LocalDate date) implements BookingRefusal {
        @Override
        public String field() {
            return "start";
        }

        @Override
        public List<Object> arguments() {
            return List.of(method, date);
        }
    }

    /** A reason was asked for and none was given. */
    record NoReason() implements BookingRefusal {
        @Override
        public String field() {
            return "reason";
        }
    }

    /** The clinic has none such (or it is out of use): {@code appointment}, {@code referral}, {@code patient}, ... */
    record Unknown(String what) implements BookingRefusal {
        /** The appointment is what the address names; the others are values in a form. */
        @Override
        public Kind kind() {
            return what.equals("appointment") ? Kind.ABSENT : BookingRefusal.super.kind();
        }

        @Override
        public String field() {
            return what;
        }

        @Override
        public List<Object> arguments() {
            return List.of(what);
        }
    }

    /** The appointment does not stand where this can be done. */
    record NotNow(String action, AppointmentStatus status) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(action, status);
        }
    }

    /** It is too early for that. */
    record NotBeforeStart(LocalTime start) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(start);
        }
    }

    /** A time that does not follow the one before it, or is missing. */
    record TimesOutOfOrder() implements BookingRefusal {
        @Override
        public String field() {
            return "at";
        }
    }

    /** From called in to finished, or from finished to room ready, it would be more than three hours. */
    record ImplausibleSpan() implements BookingRefusal {
        @Override
        public String field() {
            return "at";
        }
    }

    /** A time that is still to come, or not of the appointment's day. */
    record TimeNotOfTheDay() implements BookingRefusal {
        @Override
        public String field() {
            return "at";
        }
    }

    /** A press that waited too long before it was sent. */
    record PressTooOld(long mostHours) implements BookingRefusal {
        @Override
        public String field() {
            return "ageMillis";
        }

        @Override
        public List<Object> arguments() {
            return List.of(mostHours);
        }
    }

    /** The key came before, with another press. */
    record KeyOfAnotherPress() implements BookingRefusal {
        @Override
        public String field() {
            return "key";
        }
    }

    /** The day is not over yet, or still to come. */
    record DayNotOver(LocalDate date) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(date);
        }
    }

    /** Visits that have begun and are not finished. */
    record VisitsUnfinished(int visits) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(visits);
        }
    }

    /** Visits without an end while the last session of the day still runs. */
    record VisitsOpen(int visits) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(visits);
        }
    }

    /** Closing a day with that many visits without an end was not confirmed. */
    record OpenVisitsNotConfirmed(int visits) implements BookingRefusal {
        @Override
        public String field() {
            return "openVisits";
        }

        @Override
        public List<Object> arguments() {
            return List.of(visits);
        }
    }

    /** The day is closed, its times stay as they are. */
    record DayClosed(LocalDate date) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(date);
        }
    }

    /** The day is open already. */
    record DayNotClosed(LocalDate date) implements BookingRefusal {
        @Override
        public List<Object> arguments() {
            return List.of(date);
        }
    }

    /** An ear was recorded with findings although the visit has not begun, or is of another kind. */
    record NothingToRecord() implements BookingRefusal {}

    /** A confirmed start is moved only by asking the patient. */
    record PatientNotAsked() implements BookingRefusal {
        @Override
        public String field() {
            return "asked";
        }
    }

    /** Someone else changed the appointment first. */
    record ChangedMeanwhile() implements BookingRefusal {}
}
