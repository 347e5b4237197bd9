package org.earslot.duration.fit;

/**
 * The path of a walking level through a fit's visits.
 *
 * @param mean by row of the table
 * @param last the level on the last day
 * @param variance how sure that is
 */
record LevelPath(double[] mean, double last, double variance) {

    /** By what the visits say beyond the fit's coefficients, each with its person's own spread. */
    static LevelPath of(Fit fit, double daily) {
        int n = fit.visits.count;
        RowStep step = new RowStep(fit, new SweepAccumulator(fit));
        double person = fit.persons ? fit.sizes.person * fit.sizes.person : 0;
        long[] day = new long[n];
        double[] value = new double[n];
        double[] variance = new double[n];
        for (int i = 0; i < n; i++) {
            int row = fit.visits.order[i];
            day[i] = fit.visits.day[row];
            step.evaluate(row, 0);
            double precision = Math.max(1e-9, step.precision);
            value[i] = fit.stretch.level()[row] + step.slope / precision;
            variance[i] = 1 / precision + person;
        }
        WalkingLevel.Filtered path =
                WalkingLevel.smoothed(new WalkingLevel.Seen(day, value, variance, new double[0], new double[0]), daily);
        double[] mean = new double[n];
        for (int i = 0; i < n; i++) {
            mean[fit.visits.order[i]] = path.mean()[i];
        }
        return new LevelPath(mean, path.mean()[n - 1], path.variance()[n - 1]);
    }

    FitResult.Level end(WalkingLevel.Walk walk) {
        return new FitResult.Level(last, variance, walk.yearly(), walk.gain());
    }
}
