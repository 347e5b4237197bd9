package org.earslot.invented;

/**
 * How a referrer (or a practitioner's own note) turns the true level of something with ordered levels into a written one.
 *
 * @param missing probability that nothing is written
 * @param wrong probability that a written level is not the true one
 * @param upward weight of too high a level against too low a one, as a multiple
 */
record ReportHabit(double missing, double wrong, double upward) {

    /** Probability that {@code written} is put down, given that something is. */
    double of(int written, int truth, int levels) {
        if (written == truth) {
            return 1 - wrong;
        }
        double total = 0;
        for (int other = 0; other < levels; other++) {
            total += weight(other, truth);
        }
        return wrong * weight(written, truth) / total;
    }

    /** A neighbouring level is mistaken more easily than a far one. */
    private double weight(int written, int truth) {
        if (written == truth) {
            return 0;
        }
        return Math.pow(0.35, Math.abs(written - truth) - 1) * (written > truth ? upward : 1);
    }

    /** The level written, -1 for none. */
    int write(Luck luck, int truth, int levels) {
        if (luck.happens(missing)) {
            return -1;
        }
        double[] chances = new double[levels];
        for (int level = 0; level < levels; level++) {
            chances[level] = of(level, truth, levels);
        }
        return luck.pick(chances);
    }

    /** Likelihood of what was written (-1 for nothing) under {@code truth}. */
    double likelihood(int written, int truth, int levels) {
        return written < 0 ? missing : (1 - missing) * of(written, truth, levels);
    }
}
