package org.earslot.page;

import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSourceResolvable;

/**
 * One thing wrong with what was asked: never a patient's details.
 *
 * @param field the field's name as the asker knows it
 * @param given what was given, shortened; empty if repeating it would show a patient's details
 * @param allowed what is allowed, a text of the messages
 * @param remedy what to do, likewise
 */
public record Problem(String field, String given, MessageSourceResolvable allowed, MessageSourceResolvable remedy) {

    private static final int LONGEST = 60;
    private static final String FILL_IN = "page.remedy.fillIn";

    public Problem {
        given = given.length() > LONGEST ? given.substring(0, LONGEST) + "…" : given;
    }

    /**
     * A problem with its texts from the messages.
     *
     * @param key of what is allowed; the remedy has the same key plus {@code .remedy}, or is to fill the field in
     */
    public static Problem of(String field, @Nullable String given, String key, Object... arguments) {
        return new Problem(
                field,
                given == null ? "" : given,
                Messages.text(key, arguments),
                Messages.text(new String[] {key + Messages.REMEDY, FILL_IN}, arguments));
    }

    /** What a room refused. */
    public static Problem of(Reason reason) {
        return new Problem(reason.field(), reason.given(), reason.fact(), reason.remedy());
    }

    /** A field that must be filled in and is not. */
    static Problem missing(String field, String key, Object... arguments) {
        return new Problem(field, "", Messages.text(key, arguments), Messages.text(FILL_IN));
    }

    /** A problem whose texts came with a file. */
    public static Problem said(String field, String given, String allowed, String remedy) {
        return new Problem(field, given, Messages.text("page.said", allowed), Messages.text("page.said", remedy));
    }
}
