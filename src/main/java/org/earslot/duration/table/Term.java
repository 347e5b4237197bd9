package org.earslot.duration.table;

import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * One thing known, half known or not known of a visit or of a part of it. It belongs to a factor, by name.
 *
 * <p>A factor that a row does not mention at all stands at its reference level. "Not known" is said by a
 * {@link Finding} with nothing found and nothing reported: it is no level of its own but a mixture over what may be
 * found, so it makes a prediction wider.
 */
public sealed interface Term {

    /** The factor's name, not blank. */
    String factor();

    /** A level that is certain, before the visit and after it. */
    record Level(String factor, String level) implements Term {
        public Level {
            Named.notBlank("factor", factor);
            Named.notBlank("level of " + factor, level);
        }
    }

    /**
     * A number; the factor's multiplier is exp(coefficient x value).
     *
     * @param value finite
     */
    record Number(String factor, double value) implements Term {
        public Number {
            Named.notBlank("factor", factor);
            Named.finite(factor, value);
        }
    }

    /**
     * A level that shows only during the visit: what was said before, and what turned out.
     *
     * @param reported the level reported beforehand, null where nothing was
     * @param found the level found, null where not (yet) known; a prediction never looks at it
     */
    record Finding(
            String factor,
            @Nullable String reported,
            @Nullable String found) implements Term {
        public Finding {
            Named.notBlank("factor", factor);
            Named.nullOrNotBlank("level reported of " + factor, reported);
            Named.nullOrNotBlank("level found of " + factor, found);
        }
    }

    /**
     * Levels with the shares given to them from outside, in place of the learnt ones.
     *
     * @param shares at least one level; finite, at least 0, sum 1 within 1e-9
     */
    record Mixture(String factor, Map<String, Double> shares) implements Term {
        public Mixture {
            Named.notBlank("factor", factor);
            // Sorted, so that nothing depends on the order in which the levels were put in.
            shares = java.util.Collections.unmodifiableMap(new TreeMap<>(shares));
            double sum = 0;
            for (Map.Entry<String, Double> share : shares.entrySet()) {
                Named.notBlank("level of " + factor, share.getKey());
                if (!(share.getValue() >= 0)) {
                    throw new IllegalArgumentException("share of " + factor + " " + share.getKey() + " is "
                            + share.getValue() + "; give a number from 0 to 1");
                }
                sum += share.getValue();
            }
            if (!(Math.abs(sum - 1) <= 1e-9)) {
                throw new IllegalArgumentException(
                        "shares of " + factor + " add up to " + sum + "; give shares that add up to 1");
            }
        }
    }

    /** A certain level. */
    static Term level(String factor, String level) {
        return new Level(factor, level);
    }

    /** A number. */
    static Term number(String factor, double value) {
        return new Number(factor, value);
    }

    /** Before the visit: what is reported of a finding, null where nothing is. */
    static Term reported(String factor, @Nullable String reported) {
        return new Finding(factor, reported, null);
    }

    /** After the visit: what was reported and what was found, either null where not known. */
    static Term found(String factor, @Nullable String reported, @Nullable String found) {
        return new Finding(factor, reported, found);
    }

    /** Neither reported nor found. */
    static Term unknown(String factor) {
        return new Finding(factor, null, null);
    }
}
