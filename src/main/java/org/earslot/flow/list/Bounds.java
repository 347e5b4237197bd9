package org.earslot.flow.list;

/** Guards on arguments, each written so that NaN fails; the message carries the value and what is allowed. */
public final class Bounds {

    private Bounds() {}

    /**
     * {@code value}, if it is from {@code least} to {@code most}.
     *
     * @throws IllegalArgumentException otherwise, NaN included; it names {@code what}, the value and the range
     */
    public static double within(String what, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new IllegalArgumentException(what + " is " + value + "; give a number from " + least + " to " + most);
        }
        return value;
    }

    /**
     * {@code value}, if it is finite and at least 0.
     *
     * @throws IllegalArgumentException otherwise; it names {@code what} and the value
     */
    public static double nonNegative(String what, double value) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(what + " is " + value + "; give a finite number from 0");
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
