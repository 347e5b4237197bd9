package org.earslot.demo;

import java.util.List;
import java.util.Random;

/**
 * The one source of chance of the invented clinic: seeded, so the same files come out on every machine.
 * {@link Random} is specified to the bit, and only {@link StrictMath} is used beside it.
 */
final class Dice {

    private final Random random;

    Dice(long seed) {
        random = new Random(seed);
    }

    boolean chance(double probability) {
        return random.nextDouble() < probability;
    }

    /** A whole number from {@code least} to {@code most}, both included. */
    int between(int least, int most) {
        return least + random.nextInt(most - least + 1);
    }

    <T> T one(List<T> of) {
        return of.get(random.nextInt(of.size()));
    }

    /** One of {@code values}, each with its weight; the weights sum to 1. */
    <T> T weighted(T[] values, double... weights) {
        double left = random.nextDouble();
        for (int i = 0; i < values.length - 1; i++) {
            left -= weights[i];
            if (left < 0) {
                return values[i];
            }
        }
        return values[values.length - 1];
    }

    double normal(double sd) {
        return sd * random.nextGaussian();
    }

    double exponential(double mean) {
        return -mean * StrictMath.log(1 - random.nextDouble());
    }

    /** The truth with probability {@code right}, else the level next to it. */
    <E extends Enum<E>> E nearly(E truth, double right) {
        if (chance(right)) {
            return truth;
        }
        E[] levels = truth.getDeclaringClass().getEnumConstants();
        int step = chance(0.5) ? 1 : -1;
        int other = truth.ordinal() + step;
        return levels[other < 0 || other >= levels.length ? truth.ordinal() - step : other];
    }
}
