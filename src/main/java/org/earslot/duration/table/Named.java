package org.earslot.duration.table;

import org.jspecify.annotations.Nullable;

/** Guards on names and numbers, each written so that NaN fails; the message carries the value and the remedy. */
final class Named {

    private Named() {}

    static String notBlank(String what, String name) {
        if (name.isBlank()) {
            throw new IllegalArgumentException(what + " is blank; give a name");
        }
        return name;
    }

    static void nullOrNotBlank(String what, @Nullable String name) {
        if (name != null) {
            notBlank(what, name);
        }
    }

    static double finite(String what, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " is " + value + "; give a finite number");
        }
        return value;
    }

    static double positive(String what, double value) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(what + " is " + value + "; give a finite number above 0");
        }
        return value;
    }
}
