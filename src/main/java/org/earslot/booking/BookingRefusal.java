package org.earslot.booking;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.ear.Method;
import org.earslot.page.Reason;
import org.jspecify.annotations.Nullable;

/**
 * Why the diary does not do what was asked; nothing was changed. Never holds a patient's details.
 *
 * @param why the fact
 * @param field the field that is wrong; empty if it is none
 * @param arguments what was given, what is allowed: the values of its text
 */
public record BookingRefusal(BookingRefusalCode why, String field, List<Object> arguments) implements Reason {

    public BookingRefusal {
        arguments = List.copyOf(arguments);
    }

    private static BookingRefusal of(BookingRefusalCode why, Object... arguments) {
        return new BookingRefusal(why, why.field(), List.of(arguments));
    }

    /** A refusal whose text needs no values. */
    public static BookingRefusal of(BookingRefusalCode why) {
        return new BookingRefusal(why, why.field(), List.of());
    }

    public static BookingRefusal unitTaken(LocalDate date, LocalTime start, String units, LocalTime freeFrom) {
        return of(BookingRefusalCode.UNIT_TAKEN, date + " " + start, units, freeFrom);
    }

    public static BookingRefusal unitOutOfUse(LocalDate date, LocalTime start, String units) {
        return of(BookingRefusalCode.UNIT_OUT_OF_USE, date + " " + start, units);
    }

    public static BookingRefusal outsideSession(LocalDate date, LocalTime start, int slotMinutes) {
        return of(BookingRefusalCode.OUTSIDE_SESSION, date + " " + start, slotMinutes);
    }

    public static BookingRefusal methodNotHeld(Method method) {
        return of(BookingRefusalCode.METHOD_NOT_HELD, method);
    }

    /** The ages are the practitioner's, not the patient's. */
    public static BookingRefusal ageNotSeen(int least, int most) {
        return of(BookingRefusalCode.AGE_NOT_SEEN, least, most);
    }

    /**
     * A start or a length is not on the clinic's grid.
     *
     * @param field {@code start} or {@code slotMinutes}
     */
    public static BookingRefusal offGrid(String field, String given, int gridMinutes) {
        return new BookingRefusal(BookingRefusalCode.OFF_GRID, field, List.of(given, gridMinutes));
    }

    public static BookingRefusal slotLengthOutOfRange(int slotMinutes, int least, int most) {
        return of(BookingRefusalCode.SLOT_LENGTH_OUT_OF_RANGE, slotMinutes, least, most);
    }

    /**
     * A session would end late too often.
     *
     * @param chance that it does, 0 to 1
     * @param accepted by the clinic, 0 to 1
     */
    public static BookingRefusal beyondLateEnds(double chance, double accepted) {
        return of(BookingRefusalCode.BEYOND_LATE_ENDS, Math.round(100 * chance), Math.round(100 * accepted));
    }

    public static BookingRefusal shorterThanOffered(int slotMinutes, int least) {
        return of(BookingRefusalCode.SHORTER_THAN_OFFERED, slotMinutes, least);
    }

    public static BookingRefusal inThePast(LocalDate date, LocalTime start) {
        return of(BookingRefusalCode.IN_THE_PAST, date + " " + start);
    }

    public static BookingRefusal tooFarAhead(LocalDate date, LocalDate last) {
        return of(BookingRefusalCode.TOO_FAR_AHEAD, date, last);
    }

    public static BookingRefusal clocksChange(LocalDate date) {
        return of(BookingRefusalCode.CLOCKS_CHANGE, date);
    }

    public static BookingRefusal softenerNotOver(LocalDate notBefore) {
        return of(BookingRefusalCode.SOFTENER_NOT_OVER, notBefore);
    }

    /**
     * A red flag waits for a clinician's decision.
     *
     * @param clinician who decides; null while nobody is named
     */
    public static BookingRefusal redFlagOpen(@Nullable String clinician) {
        return clinician == null
                ? of(BookingRefusalCode.RED_FLAG_OPEN)
                : of(BookingRefusalCode.RED_FLAG_OPEN, clinician);
    }

    public static BookingRefusal alreadyBooked(UUID appointmentId) {
        return of(BookingRefusalCode.ALREADY_BOOKED, appointmentId);
    }

    public static BookingRefusal methodContraindicated(Method method, LocalDate date) {
        return of(BookingRefusalCode.METHOD_CONTRAINDICATED, method, date);
    }

    /**
     * The clinic has none such.
     *
     * @param what {@code appointment}, {@code referral}, {@code patient}, ...
     */
    public static BookingRefusal unknown(String what) {
        return new BookingRefusal(BookingRefusalCode.UNKNOWN, what, List.of(what));
    }

    public static BookingRefusal notNow(String action, AppointmentStatus status) {
        return of(BookingRefusalCode.NOT_NOW, action, status);
    }

    public static BookingRefusal notBeforeStart(LocalTime start) {
        return of(BookingRefusalCode.NOT_BEFORE_START, start);
    }

    public static BookingRefusal undoTooLate(long minutes) {
        return of(BookingRefusalCode.UNDO_TOO_LATE, minutes);
    }

    public static BookingRefusal pressTooOld(long mostHours) {
        return of(BookingRefusalCode.PRESS_TOO_OLD, mostHours);
    }

    public static BookingRefusal dayNotOver(LocalDate date) {
        return of(BookingRefusalCode.DAY_NOT_OVER, date);
    }

    public static BookingRefusal visitsUnfinished(int visits) {
        return of(BookingRefusalCode.VISITS_UNFINISHED, visits);
    }

    public static BookingRefusal visitsOpen(int visits) {
        return of(BookingRefusalCode.VISITS_OPEN, visits);
    }

    public static BookingRefusal openVisitsNotConfirmed(int visits) {
        return of(BookingRefusalCode.OPEN_VISITS_NOT_CONFIRMED, visits);
    }

    public static BookingRefusal dayClosed(LocalDate date) {
        return of(BookingRefusalCode.DAY_CLOSED, date);
    }

    public static BookingRefusal dayNotClosed(LocalDate date) {
        return of(BookingRefusalCode.DAY_NOT_CLOSED, date);
    }

    @Override
    public String code() {
        return why.code();
    }

    /** The appointment is what the address names; whatever else is not known is a value in a form. */
    @Override
    public Kind kind() {
        return why == BookingRefusalCode.UNKNOWN && field.equals("appointment") ? Kind.ABSENT : why.kind();
    }

    @Override
    public String messageKey() {
        boolean nobodyDecides = why == BookingRefusalCode.RED_FLAG_OPEN && arguments.isEmpty();
        return "booking.refusal." + why.wording() + (nobodyDecides ? ".nobody" : "");
    }

    @Override
    public Map<String, Object> members() {
        return why == BookingRefusalCode.ALREADY_BOOKED ? Map.of("appointment", arguments.get(0)) : Map.of();
    }
}
