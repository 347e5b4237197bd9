package org.earslot.page;

/**
 * One thing wrong with what was asked: never a patient's details.
 *
 * @param field the field's name as the asker knows it
 * @param given what was given, shortened; empty if repeating it would show a patient's details
 * @param allowed what is allowed, in words
 * @param remedy what to do
 */
public record Problem(String field, String given, String allowed, String remedy) {

    private static final int LONGEST = 60;

    public Problem {
        given = given.length() > LONGEST ? given.substring(0, LONGEST) + "…" : given;
    }
}
