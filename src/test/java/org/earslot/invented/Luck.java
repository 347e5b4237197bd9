package org.earslot.invented;

import java.util.SplittableRandom;

/** Repeatable chance. */
final class Luck {

    private final SplittableRandom random;

    Luck(long seed) {
        random = new SplittableRandom(seed);
    }

    private Luck(SplittableRandom random) {
        this.random = random;
    }

    /** An independent stream, so that a change in one place shifts no draw in another. */
    Luck apart() {
        return new Luck(random.split());
    }

    double unit() {
        return random.nextDouble();
    }

    double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    double normal() {
        return random.nextGaussian();
    }

    boolean happens(double probability) {
        return random.nextDouble() < probability;
    }

    int below(int bound) {
        return random.nextInt(bound);
    }

    double exponential(double mean) {
        return -mean * Math.log(1 - random.nextDouble());
    }

    /** An index with probability in proportion to its weight. */
    int pick(double... weights) {
        double total = 0;
        for (double weight : weights) {
            total += weight;
        }
        double left = random.nextDouble() * total;
        for (int i = 0; i < weights.length - 1; i++) {
            left -= weights[i];
            if (left < 0) {
                return i;
            }
        }
        return weights.length - 1;
    }

    /** Gamma of this shape (at least 1) and mean, by Marsaglia and Tsang (2000), from memory. */
    double gamma(double shape, double mean) {
        double d = shape - 1.0 / 3;
        double c = 1 / Math.sqrt(9 * d);
        while (true) {
            double x = normal();
            double v = Math.pow(1 + c * x, 3);
            if (v > 0 && Math.log(1 - unit()) < 0.5 * x * x + d - d * v + d * Math.log(v)) {
                return d * v * mean / shape;
            }
        }
    }
}
