package org.earslot.review;

import com.fasterxml.jackson.annotation.JsonProperty;
import org.jspecify.annotations.Nullable;

/**
 * So many of so many, with the range that the true share lies in 19 times out of 20: the score interval of Wilson,
 * {@code (p + z²/2n ± z sqrt(p(1-p)/n + z²/4n²)) / (1 + z²/n)} with z = 1.96 (the 97.5 % point of the standard normal).
 *
 * @param count 0 to {@code of}
 * @param of 0 or more; where it is 0 nothing is known: the share and its range are null
 */
public record Share(int count, int of) {

    /** The 97.5 % point of the standard normal distribution. */
    static final double Z = 1.959963984540054;

    public Share {
        if (count < 0 || count > of) {
            throw new IllegalArgumentException(count + " of " + of + "; give a count from 0 to the whole");
        }
    }

    /** The share, 0 to 1. */
    @JsonProperty
    public @Nullable Double share() {
        return of == 0 ? null : (double) count / of;
    }

    /** The low end of the 95 % range, 0 to 1. */
    @JsonProperty
    public @Nullable Double low() {
        return of == 0 ? null : Math.max(0, centre() - halfWidth());
    }

    /** The high end of the 95 % range, 0 to 1. */
    @JsonProperty
    public @Nullable Double high() {
        return of == 0 ? null : Math.min(1, centre() + halfWidth());
    }

    /** How this share differs from {@code other}: clear only if the 95 % range of the difference leaves out 0. */
    public Change against(Share other) {
        if (of == 0 || other.of == 0) {
            return Change.NOT_KNOWN;
        }
        double p = (double) count / of;
        double q = (double) other.count / other.of;
        // Newcombe's hybrid score range of a difference (Statistics in Medicine 17:873, 1998, method 10).
        double low = p - q - Math.hypot(p - low(), other.high() - q);
        double high = p - q + Math.hypot(high() - p, q - other.low());
        return Change.of(p - q, low, high);
    }

    private double centre() {
        return ((double) count / of + Z * Z / (2.0 * of)) / (1 + Z * Z / of);
    }

    private double halfWidth() {
        double p = (double) count / of;
        return Z * Math.sqrt(p * (1 - p) / of + Z * Z / (4.0 * of * of)) / (1 + Z * Z / of);
    }
}
