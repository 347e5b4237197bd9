package org.earslot.duration.fit;

import org.earslot.duration.predict.VarianceComponents;
import org.earslot.minutes.Normal;

/**
 * The likelihood of one residual on the log scale under ordinary and outlying visits, with all that a step needs of it.
 * Reusable, for one thread.
 */
final class Noise {

    private double share;
    private double shift;
    private double spread;

    /** How much harder a comfort stop finds difficult visits; 0 takes stops as uninformative. */
    private double tilt;

    /** The likelihood: density of the residual, or probability of a greater one. */
    double likelihood;

    /** The derivative of its logarithm by the location. */
    double slope;

    /** The precision that the residual is taken at. */
    double precision;

    /**
     * What the residual says on the location, minus the second derivative of the log-likelihood: the precision less what is
     * lost by not knowing which kind of visit it was (Louis 1982). May be below 0 for an odd residual.
     */
    double information;

    /** Share of the outlying component. */
    double outlier;

    /** Expected squares: ordinary, then for the outlying component the residual, and its square. */
    double ordinarySquare;

    double outlierFirst;
    double outlierSquare;

    void set(VarianceComponents sizes, double informative) {
        share = sizes.outlierShare;
        shift = sizes.outlierShift;
        spread = sizes.outlierSpread;
        tilt = informative;
    }

    /**
     * A completed visit.
     *
     * @param hazardTime stops expected in its minutes, for the tilt
     */
    void completed(double residual, double sigma, double hazardTime) {
        double z = residual / sigma;
        if (share == 0) {
            likelihood = Normal.DENSITY_AT_ZERO / sigma * Math.exp(-z * z / 2);
            outlier = 0;
            slope = z / sigma;
            precision = 1 / (sigma * sigma);
            information = precision;
        } else {
            double wide = spread * sigma;
            double z2 = (residual - shift) / wide;
            double ordinary = (1 - share) * Normal.DENSITY_AT_ZERO / sigma * Math.exp(-z * z / 2);
            double odd = share * Normal.DENSITY_AT_ZERO / wide * Math.exp(-z2 * z2 / 2);
            likelihood = ordinary + odd;
            outlier = likelihood > 1e-300 ? odd / likelihood : 1;
            double a = (1 - outlier) / (sigma * sigma);
            double b = outlier / (wide * wide);
            slope = a * residual + b * (residual - shift);
            precision = a + b;
            double apart = residual / (sigma * sigma) - (residual - shift) / (wide * wide);
            information = precision - outlier * (1 - outlier) * apart * apart;
        }
        ordinarySquare = residual * residual;
        outlierFirst = residual;
        outlierSquare = residual * residual;
        if (tilt != 0) {
            slope += hazardTime * tilt / sigma * Math.exp(Math.min(4, tilt * z));
        }
    }

    /** A visit stopped early: the residual is a lower bound. */
    void stoppedEarly(double residual, double sigma, boolean comfort) {
        double lean = comfort ? tilt : 0;
        double z = residual / sigma - lean;
        double hazard = Normal.hazard(z);
        double slope1 = hazard / sigma;
        double precision1 = hazard * (hazard - z) / (sigma * sigma);
        double mean1 = sigma * (hazard + lean);
        ordinarySquare = sigma * sigma * (1 + z * hazard + 2 * lean * hazard + lean * lean);
        if (share == 0) {
            likelihood = Normal.upper(z);
            outlier = 0;
            slope = slope1;
            precision = precision1;
            information = precision1;
            outlierFirst = mean1;
            outlierSquare = ordinarySquare;
            return;
        }
        double wide = spread * sigma;
        double z2 = (residual - shift) / wide - lean;
        double hazard2 = Normal.hazard(z2);
        double ordinary = (1 - share) * Normal.upper(z);
        double odd = share * Normal.upper(z2);
        likelihood = ordinary + odd;
        outlier = likelihood > 1e-300 ? odd / likelihood : 1;
        slope = (1 - outlier) * slope1 + outlier * hazard2 / wide;
        precision = (1 - outlier) * precision1 + outlier * hazard2 * (hazard2 - z2) / (wide * wide);
        double apart = slope1 - hazard2 / wide;
        information = precision - outlier * (1 - outlier) * apart * apart;
        outlierFirst = shift + wide * (hazard2 + lean);
        outlierSquare = shift * shift
                + 2 * shift * wide * (hazard2 + lean)
                + wide * wide * (1 + z2 * hazard2 + 2 * lean * hazard2 + lean * lean);
    }
}
