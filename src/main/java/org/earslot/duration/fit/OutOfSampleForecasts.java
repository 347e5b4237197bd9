package org.earslot.duration.fit;

import java.util.Arrays;
import org.earslot.minutes.MixtureMinutes;
import org.earslot.minutes.Normal;

/** Past visits as they were forecast one step ahead, in their order of time. */
final class OutOfSampleForecasts {

    /** Half the width of the window that a density is taken over, relative to the minutes. */
    private static final double WINDOW = 0.02;

    private int count;
    private int[] place;
    private double[] probability;
    private double[] weight;
    private boolean[] cut;
    private double scores;

    OutOfSampleForecasts(int expected) {
        int size = Math.max(16, expected);
        place = new int[size];
        probability = new double[size];
        weight = new double[size];
        cut = new boolean[size];
    }

    /**
     * @param at the visit's place in time
     * @param forecast made before it
     * @param minutes what came
     */
    void add(int at, MixtureMinutes forecast, double minutes, boolean stoppedEarly, double times) {
        if (count == place.length) {
            place = Arrays.copyOf(place, 2 * count);
            probability = Arrays.copyOf(probability, 2 * count);
            weight = Arrays.copyOf(weight, 2 * count);
            cut = Arrays.copyOf(cut, 2 * count);
        }
        double said = forecast.cdf(minutes);
        double likelihood =
                stoppedEarly ? 1 - said : forecast.cdf(minutes * (1 + WINDOW)) - forecast.cdf(minutes * (1 - WINDOW));
        scores += Math.log(Math.max(1e-6, likelihood));
        place[count] = at;
        probability[count] = said;
        weight[count] = times;
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

    /** The mean log score. */
    double score() {
        return count == 0 ? 0 : scores / count;
    }

    /** Misses on the normal scale; of a visit stopped early, the one expected beyond it. */
    double[] misses() {
        double[] misses = new double[count];
        for (int i = 0; i < count; i++) {
            double p = Math.max(1e-4, Math.min(1 - 1e-4, probability[i]));
            misses[i] = Normal.quantile(cut[i] ? (1 + p) / 2 : p);
        }
        return misses;
    }

    /** What the probabilities of the first so many turned out to be. */
    Calibration calibration(Fit fit, int first) {
        Calibration calibration = new Calibration(fit.sizes.noise.length);
        for (int i = 0; i < first; i++) {
            int row = fit.visits.order[place[i]];
            calibration.add(probability[i], cut[i], fit.classOf[row], weight[i]);
        }
        return calibration;
    }
}
