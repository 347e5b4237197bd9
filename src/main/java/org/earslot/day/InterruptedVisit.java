package org.earslot.day;

import java.time.LocalTime;
import org.jspecify.annotations.Nullable;

/**
 * The time outside of a patient who is called in twice: softener or water works while the chair goes on.
 *
 * @param from when the patient left the room for it
 * @param to called in again; null while still outside
 */
public record InterruptedVisit(LocalTime from, @Nullable LocalTime to) {

    /** Minutes from leaving the room to the second call-in. */
    static final int MINUTES = (int) SecondTry.OUTSIDE.toMinutes();

    /** From when the patient may be called in again. */
    public LocalTime due() {
        LocalTime due = from.plusMinutes(MINUTES);
        return due.isBefore(from) ? LocalTime.MAX : due;
    }
}
