package org.earslot.minutes;

/** Guards on arguments, each written so that NaN fails; the message carries the value and what is allowed. */
final class Domain {

    private Domain() {}

    static double nonNegative(String name, double value) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " is " + value + "; give a finite number from 0");
        }
        return value;
    }

    static double finite(String name, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name + " is " + value + "; give a finite number");
        }
        return value;
    }

    static double openUnit(String name, double value) {
        if (!(value > 0 && value < 1)) {
            throw new IllegalArgumentException(
                    name + " is " + value + "; give a number between 0 and 1, both excluded");
        }
        return value;
    }

    static double notNan(String name, double value) {
        if (Double.isNaN(value)) {
            throw new IllegalArgumentException(name + " is not a number; give a number");
        }
        return value;
    }
}
