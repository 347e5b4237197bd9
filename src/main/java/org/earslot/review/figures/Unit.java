package org.earslot.review.figures;

import java.util.Locale;

/** What a figure is counted in, and how its differences are written. */
public enum Unit {
    IN_HUNDRED("in_hundred", 100),
    MINUTES("minutes", 1),
    WEEKS("weeks", 1),
    VISITS("visits", 1);

    private final String code;
    private final double times;

    Unit(String code, double times) {
        this.code = code;
        this.times = times;
    }

    /** Names the unit in message files. */
    public String code() {
        return code;
    }

    /** A difference to one decimal with its sign; one that rounds to nothing has none. */
    public String signed(double difference) {
        String written = String.format(Locale.ROOT, "%+.1f", difference * times);
        return written.endsWith("0.0") && written.length() == 4 ? "0.0" : written.replace('-', '−');
    }
}
