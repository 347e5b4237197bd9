package org.earslot.clinic;

import java.util.List;
import org.earslot.page.Reason;

/**
 * Why the set-up or the kit is not changed; nothing was changed.
 *
 * @param why the fact
 * @param field the field that is wrong
 * @param given what was given
 * @param arguments the values of its text
 */
public record SetUpRefusal(Code why, String field, String given, List<Object> arguments) implements Reason {

    /** What may be refused. */
    public enum Code {
        /** Another row has the name. */
        NAME_TAKEN("name-taken", "clinic.refusal.nameTaken"),
        /** The clinic has none such. */
        NOT_OF_CLINIC("not-of-clinic", "clinic.refusal.notOfClinic"),
        /** The break lies outside its session. */
        BREAK_OUTSIDE("break-outside", "clinic.refusal.breakOutside"),
        /** The practitioner or the room is in a session then. */
        SESSION_THEN("session-then", "clinic.refusal.sessionThen"),
        /** Who is to cover is in a session then. */
        COVER_BUSY("cover-busy", "clinic.refusal.coverBusy"),
        /** The shortest slot is longer than the longest. */
        SLOTS_CROSSED("slots-crossed", "clinic.refusal.slotsCrossed");

        private final String code;
        private final String messageKey;

        Code(String code, String messageKey) {
            this.code = code;
            this.messageKey = messageKey;
        }
    }

    public SetUpRefusal {
        arguments = List.copyOf(arguments);
    }

    public static SetUpRefusal nameTaken(String name) {
        return new SetUpRefusal(Code.NAME_TAKEN, "name", name, List.of());
    }

    /**
     * The clinic has none such.
     *
     * @param what {@code practitioner}, {@code room}, {@code unit}, ...
     */
    public static SetUpRefusal notOfClinic(String what) {
        return new SetUpRefusal(Code.NOT_OF_CLINIC, what, "", List.of(what));
    }

    public static SetUpRefusal breakOutside(TimeSpan pause, TimeSpan session) {
        return new SetUpRefusal(
                Code.BREAK_OUTSIDE,
                "breakFrom",
                pause.from() + " to " + pause.to(),
                List.of(session.from(), session.to()));
    }

    public static SetUpRefusal sessionThen(TimeSpan wanted, TimeSpan other) {
        return new SetUpRefusal(
                Code.SESSION_THEN, "from", wanted.from() + " to " + wanted.to(), List.of(other.from(), other.to()));
    }

    public static SetUpRefusal coverBusy(TimeSpan wanted, TimeSpan other) {
        return new SetUpRefusal(
                Code.COVER_BUSY, "practitioner", "", List.of(wanted.from(), wanted.to(), other.from(), other.to()));
    }

    public static SetUpRefusal slotsCrossed(int least, int most) {
        return new SetUpRefusal(Code.SLOTS_CROSSED, "leastSlotMinutes", String.valueOf(least), List.of(most));
    }

    @Override
    public String code() {
        return why.code;
    }

    @Override
    public Kind kind() {
        return Kind.INVALID;
    }

    @Override
    public String messageKey() {
        return why.messageKey;
    }
}
