package org.earslot.day;

import java.time.LocalTime;

/**
 * What a patient was told of the wait.
 *
 * @param minutes the wait that was expected then
 */
public record WaitNotice(LocalTime at, int minutes) {

    /** A wait longer than was said by this is worth another word; the project's own assumption. */
    public static final int MORE_MINUTES = 10;
}
