package org.earslot.page;

import java.util.Locale;

/** Numbers as a page shows them: rounded, and never a zero with a minus. */
public final class Figures {

    /** With this number of decimals, at least 0: 4.26 with 1 is 4.3, and -0.04 is 0.0. */
    public String of(double value, int decimals) {
        double scale = Math.pow(10, decimals);
        double rounded = Math.round(value * scale) / scale;
        return String.format(Locale.ROOT, "%." + decimals + "f", rounded + 0.0);
    }

    /** Whole minutes added or saved, with their sign: +6, −2. */
    public String signed(double value) {
        return (value < 0 ? "−" : "+") + Math.round(Math.abs(value));
    }
}
