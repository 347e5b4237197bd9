package org.earslot.diary;

import java.time.LocalDate;
import java.time.LocalTime;
import org.earslot.ear.Method;

/** Why the diary does not do what was asked; nothing was changed. Never holds a patient's details. */
public sealed interface BookingRefusal {

    /** The practitioner or the room is booked then. */
    record SlotTaken() implements BookingRefusal {}

    /** No session of that practitioner in that room holds the whole place clear of its break. */
    record OutsideSession(LocalDate date, LocalTime start, int slotMinutes) implements BookingRefusal {}

    /** The practitioner does not hold the method. */
    record MethodNotHeld(Method method) implements BookingRefusal {}

    /** The start or the length is not on the clinic's grid. */
    record OffGrid(String field, String given, int gridMinutes) implements BookingRefusal {}

    /** The slot is shorter or longer than the clinic's policy allows. */
    record SlotLengthOutOfRange(int slotMinutes, int least, int most) implements BookingRefusal {}

    /** The start is over. */
    record InThePast(LocalDate date, LocalTime start) implements BookingRefusal {}

    /** The diary is not open that far ahead. */
    record TooFarAhead(LocalDate date, LocalDate last) implements BookingRefusal {}

    /** The clocks change within the place. */
    record ClocksChange(LocalDate date) implements BookingRefusal {}

    /** The softener days are not over by then. */
    record SoftenerNotOver(LocalDate notBefore) implements BookingRefusal {}

    /** A red flag or another open question stops a routine booking. */
    record ReferralNotReady() implements BookingRefusal {}

    /** The referral has an appointment already. */
    record AlreadyBooked() implements BookingRefusal {}

    /** The method must not be used with a caution of this referral on that date. */
    record MethodContraindicated(Method method, LocalDate date) implements BookingRefusal {}

    /** A reason was asked for and none was given. */
    record NoReason() implements BookingRefusal {}

    /** The clinic has none such (or it is out of use): {@code appointment}, {@code referral}, {@code patient}, ... */
    record Unknown(String what) implements BookingRefusal {}

    /** The appointment does not stand where this can be done. */
    record NotNow(String action, AppointmentStatus status) implements BookingRefusal {}

    /** It is too early for that. */
    record NotBeforeStart(LocalTime start) implements BookingRefusal {}

    /** A time that does not follow the one before it, or is missing. */
    record TimesOutOfOrder() implements BookingRefusal {}

    /** From called in to finished, or from finished to room ready, it would be more than three hours. */
    record SpanOutOfReason() implements BookingRefusal {}

    /** A time that is still to come, or not of the appointment's day. */
    record TimeNotOfTheDay() implements BookingRefusal {}

    /** The day is closed, its times stay as they are. */
    record DayClosed(LocalDate date) implements BookingRefusal {}

    /** An ear was recorded with findings although the visit has not begun, or is of another kind. */
    record NothingToRecord() implements BookingRefusal {}

    /** Someone else changed the appointment first. */
    record ChangedMeanwhile() implements BookingRefusal {}
}
