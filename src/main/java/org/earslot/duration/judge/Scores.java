package org.earslot.duration.judge;

import org.earslot.minutes.EmpiricalMinutes;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.hipparchus.special.Erf;
import org.hipparchus.util.FastMath;

/**
 * What one forecast is worth once the time is known. All scores are in minutes, at least 0, and smaller is better; each
 * is proper: in the mean it is least for the true distribution (Gneiting and Raftery 2007, from memory).
 */
public final class Scores {

    /** Where the forecast bends: panels of the integral end at these probabilities. */
    private static final double[] PANEL_ENDS = {1e-6, 0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98, 0.999, 1 - 1e-6, 1 - 1e-10};

    private static final GaussIntegrator RULE = new GaussIntegratorFactory().legendre(12);

    /** Halvings of a panel before a jump in it is taken as located: a minute over 2^36 is below 1e-10. */
    private static final int MOST_HALVINGS = 36;

    private Scores() {}

    /**
     * The quantile ("pinball") score: p * (y - q) where y is above q, else (1 - p) * (q - y).
     *
     * @param quantile q, the minutes set aside; finite
     * @param probability p, the share of visits meant to be done within q; in the open interval (0, 1)
     * @param minutes y, the minutes taken; finite
     * @throws IllegalArgumentException outside of these, or if any is NaN
     */
    public static double pinball(double quantile, double probability, double minutes) {
        finite("quantile", quantile);
        finite("minutes", minutes);
        openUnit("probability", probability);
        double over = minutes - quantile;
        return over >= 0 ? probability * over : (probability - 1) * over;
    }

    /**
     * The continuous ranked probability score: the integral over t of (F(t) - 1{t >= y})^2, in minutes.
     *
     * <p>Closed form for a log-normal (Baran and Lerch 2015, from memory), a fixed and an empirical time; for any other
     * distribution by Gauss-Legendre panels that are halved until two estimates agree within 1e-9 minutes a panel. What
     * lies beyond the 1 - 1e-10 quantile, or y if that is later, is left out.
     *
     * @param forecast F
     * @param minutes y, the minutes taken; finite, at least 0
     * @throws IllegalArgumentException if {@code minutes} is negative, infinite or NaN
     */
    public static double crps(MinutesDistribution forecast, double minutes) {
        if (!(finite("minutes", minutes) >= 0)) {
            throw new IllegalArgumentException("minutes is " + minutes + "; give a finite number from 0");
        }
        if (forecast instanceof FixedMinutes fixed) {
            return Math.abs(minutes - fixed.minutes());
        }
        if (forecast instanceof LogNormalMinutes logNormal && logNormal.sdLog() > 0) {
            return ofLogNormal(logNormal, minutes);
        }
        if (forecast instanceof EmpiricalMinutes empirical) {
            return ofEmpirical(empirical, minutes);
        }
        return integrated(forecast, minutes);
    }

    /**
     * The probability integral transform of an observed time, at the middle of what the record leaves open: the mean of
     * F just below and F just above. For times kept in steps (whole minutes: step 1) these are F(y - step/2) and F(y +
     * step/2); for exact times (step 0) the two sides of a jump of F at y, which agree where F is continuous.
     *
     * @param forecast F
     * @param minutes y, finite
     * @param step the step of the record in minutes, finite, at least 0
     * @return a number from 0 to 1, uniform over visits (but for the width of a step) if the forecasts are right
     * @throws IllegalArgumentException outside of these, or if any is NaN
     */
    public static double pit(MinutesDistribution forecast, double minutes, double step) {
        finite("minutes", minutes);
        if (!(finite("step", step) >= 0)) {
            throw new IllegalArgumentException("step is " + step + "; give a finite number from 0");
        }
        double below = step == 0 ? Math.nextDown(minutes) : minutes - step / 2;
        double above = step == 0 ? minutes : minutes + step / 2;
        return (forecast.cdf(below) + forecast.cdf(above)) / 2;
    }

    /** y (2 Phi(z) - 1) - 2 exp(mu + s^2/2) (Phi(z - s) + Phi(s / sqrt 2) - 1), z = (ln y - mu) / s. */
    private static double ofLogNormal(LogNormalMinutes forecast, double minutes) {
        double s = forecast.sdLog();
        double z = (Math.log(minutes) - forecast.meanLog()) / s;
        double below = minutes == 0 ? 0 : normal(z);
        double belowShifted = minutes == 0 ? 0 : normal(z - s);
        return minutes * (2 * below - 1) - 2 * forecast.mean() * (belowShifted - normal(-s / FastMath.sqrt(2)));
    }

    private static double normal(double z) {
        return 0.5 * Erf.erfc(-z / FastMath.sqrt(2));
    }

    /** E|T - y| - E|T - T'|/2, the second term as the sum of F (1 - F) over the gaps between times. */
    private static double ofEmpirical(EmpiricalMinutes forecast, double minutes) {
        double score = 0;
        for (int i = 0; i + 1 < forecast.size(); i++) {
            double from = forecast.time(i);
            double to = forecast.time(i + 1);
            if (to > from) {
                double below = forecast.cdf(from);
                double split = Math.min(Math.max(minutes, from), to);
                score += below * below * (split - from) + (1 - below) * (1 - below) * (to - split);
            }
        }
        double least = forecast.time(0);
        double most = forecast.time(forecast.size() - 1);
        return score + Math.max(0, least - minutes) + Math.max(0, minutes - most);
    }

    private static double integrated(MinutesDistribution forecast, double minutes) {
        double sum = 0;
        double from = 0;
        for (double probability : PANEL_ENDS) {
            double to = forecast.quantile(probability);
            if (to > from) {
                sum += betweenWithSplit(forecast, minutes, from, to);
                from = to;
            }
        }
        return minutes > from ? sum + panel(forecast, from, minutes, true) : sum;
    }

    private static double betweenWithSplit(MinutesDistribution forecast, double minutes, double from, double to) {
        double split = Math.min(Math.max(minutes, from), to);
        double before = split > from ? panel(forecast, from, split, true) : 0;
        return to > split ? before + panel(forecast, split, to, false) : before;
    }

    private static double panel(MinutesDistribution forecast, double from, double to, boolean before) {
        return halved(forecast, from, to, before, gauss(forecast, from, to, before), MOST_HALVINGS);
    }

    private static double halved(
            MinutesDistribution forecast, double from, double to, boolean before, double whole, int left) {
        double middle = (from + to) / 2;
        double first = gauss(forecast, from, middle, before);
        double second = gauss(forecast, middle, to, before);
        if (left == 0 || Math.abs(first + second - whole) <= 1e-9) {
            return first + second;
        }
        return halved(forecast, from, middle, before, first, left - 1)
                + halved(forecast, middle, to, before, second, left - 1);
    }

    private static double gauss(MinutesDistribution forecast, double from, double to, boolean before) {
        double centre = (from + to) / 2;
        double radius = (to - from) / 2;
        double sum = 0;
        for (int i = 0; i < RULE.getNumberOfPoints(); i++) {
            double below = forecast.cdf(centre + radius * RULE.getPoint(i));
            double distance = before ? below : 1 - below;
            sum += RULE.getWeight(i) * distance * distance;
        }
        return sum * radius;
    }

    static double finite(String name, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name + " is " + value + "; give a finite number");
        }
        return value;
    }

    static double openUnit(String name, double value) {
        if (!(value > 0 && value < 1)) {
            throw new IllegalArgumentException(
                    name + " is " + value + "; give a number between 0 and 1, both excluded");
        }
        return value;
    }
}
