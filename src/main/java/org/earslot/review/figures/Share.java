package org.earslot.review.figures;

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
        return of == 0 ? null : low(Z);
    }

    /** The high end of the 95 % range, 0 to 1. */
    @JsonProperty
    public @Nullable Double high() {
        return of == 0 ? null : high(Z);
    }

    /** The low end of the range at another point {@code z} of the standard normal; {@code of} is above 0. */
    public double low(double z) {
        return Math.max(0, centre(z) - halfWidth(z));
    }

    /** The high end of the range at another point {@code z} of the standard normal; {@code of} is above 0. */
    public double high(double z) {
        return Math.min(1, centre(z) + halfWidth(z));
    }

    /** How this share differs from {@code other}: clear only if the 95 % range of the difference leaves out 0. */
    public Change against(Share other) {
        return against(other, Z);
    }

    /** The same with the range at another point {@code z} of the standard normal. */
    public Change against(Share other, double z) {
        if (of == 0 || other.of == 0) {
            return Change.NOT_KNOWN;
        }
        double p = (double) count / of;
        double q = (double) other.count / other.of;
        // Newcombe's hybrid score range of a difference (Statistics in Medicine 17:873, 1998, method 10).
        double low = p - q - Math.hypot(p - low(z), other.high(z) - q);
        double high = p - q + Math.hypot(high(z) - p, q - other.low(z));
        return Change.of(p - q, low, high);
    }

    private double centre(double z) {
        return ((double) count / of + z * z / (2.0 * of)) / (1 + z * z / of);
    }

    private double halfWidth(double z) {
        double p = (double) count / of;
        return z * Math.sqrt(p * (1 - p) / of + z * z / (4.0 * of * of)) / (1 + z * z / of);
    }
}
