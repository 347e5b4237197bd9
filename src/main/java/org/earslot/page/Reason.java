package org.earslot.page;

import java.util.List;
import java.util.Map;
import org.earslot.ear.Word;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.context.support.DefaultMessageSourceResolvable;

/**
 * Why something was not done: a fact, handed back as a value. Its text stands in the messages, what to do about it under
 * the same key and {@code .remedy}. Never holds a patient's details.
 */
public interface Reason {

    /** What a reason means for who asked. */
    enum Kind {
        /** A value that cannot be used. */
        INVALID(400),
        /** What it is about does not exist. */
        ABSENT(404),
        /** Something else prevents it. */
        CONFLICT(409),
        /** A rule of the clinic or of the trade forbids it. */
        AGAINST_RULE(422);

        private final int status;

        Kind(int status) {
            this.status = status;
        }

        /** The status of HTTP that fits. */
        public int status() {
            return status;
        }
    }

    /** Lower case with hyphens, part of the interface for programs, never changed: {@code slot-taken}. */
    String code();

    Kind kind();

    /** The key of its text. */
    String messageKey();

    /** The text of it. */
    default MessageSourceResolvable fact() {
        return Messages.text(
                messageKey(), arguments().stream().map(Messages::argument).toArray());
    }

    /** The text of what to do; empty if it has none. */
    default MessageSourceResolvable remedy() {
        return new DefaultMessageSourceResolvable(
                new String[] {messageKey() + Messages.REMEDY}, fact().getArguments(), "");
    }

    /** The field that is wrong; empty if it is none. */
    default String field() {
        return "";
    }

    /** What was given, what is allowed: the arguments of the text, the value given first. */
    default List<Object> arguments() {
        return List.of();
    }

    /** What was given, as it may be repeated: the first argument, or nothing. */
    default String given() {
        if (arguments().isEmpty()) {
            return "";
        }
        Object given = arguments().get(0);
        return given instanceof Word word ? word.code() : String.valueOf(given);
    }

    /** What a problem document says besides. */
    default Map<String, Object> members() {
        return Map.of();
    }

    /** The status of HTTP for several reasons, at least one: that of the first. */
    static int status(List<? extends Reason> reasons) {
        return reasons.get(0).kind().status();
    }
}
