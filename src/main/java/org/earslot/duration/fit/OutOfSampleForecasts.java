package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.duration.past.PastVisits;
import org.earslot.minutes.MixtureMinutes;
import org.earslot.minutes.Normal;

/** Past visits as they were forecast one step ahead, in their order of time. */
final class OutOfSampleForecasts {

    private int count;
    private int[] place;
    private double[] probability;
    private double[] weight;
    private boolean[] cut;
    private double[] spread;
    private int[] fitted;

    OutOfSampleForecasts(int expected) {
        int size = Math.max(16, expected);
        place = new int[size];
        probability = new double[size];
        weight = new double[size];
        cut = new boolean[size];
        spread = new double[size];
        fitted = new int[size];
    }

    /**
     * @param at the visit's place in time
     * @param from how many visits in time the forecast was made on
     * @param forecast made before it
     * @param minutes what came
     */
    void add(int at, int from, MixtureMinutes forecast, double minutes, boolean stoppedEarly, double times) {
        if (count == place.length) {
            place = Arrays.copyOf(place, 2 * count);
            probability = Arrays.copyOf(probability, 2 * count);
            weight = Arrays.copyOf(weight, 2 * count);
            cut = Arrays.copyOf(cut, 2 * count);
            spread = Arrays.copyOf(spread, 2 * count);
            fitted = Arrays.copyOf(fitted, 2 * count);
        }
        place[count] = at;
        probability[count] = forecast.cdf(minutes);
        weight[count] = times;
        spread[count] = forecast.sdLog();
        fitted[count] = from;
        cut[count++] = stoppedEarly;
    }

    int count() {
        return count;
    }

    /** The place in time of the forecast of that index. */
    int place(int index) {
        return place[index];
    }

    /** The index of the first forecast of a visit at that place in time or later. */
    int from(int at) {
        int index = 0;
        while (index < count && place[index] < at) {
            index++;
        }
        return index;
    }

    /** Misses on the normal scale; of a visit stopped early, the one expected beyond it. */
    double[] misses() {
        double[] misses = new double[count];
        for (int i = 0; i < count; i++) {
            misses[i] = normal(cut[i] ? (1 + probability[i]) / 2 : probability[i]);
        }
        return misses;
    }

    private static double normal(double probability) {
        return Normal.quantile(Math.max(1e-4, Math.min(1 - 1e-4, probability)));
    }

    /**
     * The misses on the log scale, as what a level is seen by that every stretch's fit has put at 0 on its own visits.
     *
     * @param changed the first miss after a sharp change, or -1
     */
    WalkingLevel.Seen level(PastVisits visits, int changed) {
        long[] day = new long[count];
        double[] value = misses();
        double[] variance = new double[count];
        double[] since = new double[count];
        double[] jump = new double[count];
        long first = visits.count == 0 ? 0 : visits.day[visits.order[0]];
        for (int i = 0; i < count; i++) {
            day[i] = visits.day[visits.order[place[i]]];
            value[i] *= spread[i];
            variance[i] = spread[i] * spread[i];
            boolean sameFit = i > 0 && fitted[i] == fitted[i - 1];
            since[i] = sameFit ? Double.NaN : visits.day[visits.order[fitted[i] - 1]] - first;
            if (changed >= 0 && i >= changed && (i == changed || !sameFit)) {
                // A fit across the change has followed it by the share of its visits that came after.
                double left = Math.min(1, (double) place[changed] / fitted[i]);
                jump[i] = Math.pow(left * LayoutBuilder.AFTER_CHANGE, 2);
            }
        }
        return new WalkingLevel.Seen(day, value, variance, since, jump);
    }

    /** What the probabilities turned out to be. */
    Calibration calibration(Fit fit) {
        return calibration(fit, probability);
    }

    /** What they would have turned out to be, had the forecasts followed the level. */
    Calibration calibration(Fit fit, WalkingLevel.Filtered level) {
        double[] followed = new double[count];
        for (int i = 0; i < count; i++) {
            double log = normal(probability[i]) * spread[i] - level.mean()[i];
            followed[i] = Normal.cdf(log / Math.sqrt(spread[i] * spread[i] + level.variance()[i]));
        }
        return calibration(fit, followed);
    }

    private Calibration calibration(Fit fit, double[] said) {
        Calibration calibration = new Calibration(fit.sizes.noise.length);
        for (int i = 0; i < count; i++) {
            int row = fit.visits.order[place[i]];
            calibration.add(said[i], cut[i], fit.classOf[row], weight[i]);
        }
        return calibration;
    }
}
