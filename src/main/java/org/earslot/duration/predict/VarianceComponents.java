package org.earslot.duration.predict;

import org.earslot.duration.table.Prior.Place;
import org.earslot.duration.table.Priors;

/**
 * How much groups, persons and single visits vary, on the log scale. Mutable while a fit runs, owned by it.
 *
 * <p>Noise is normal with a standard deviation by class (kind of the first part, one part or several), partly pooled to
 * a common one; beside it a share of outlying visits, shifted up and wider.
 */
public final class VarianceComponents {

    public double group;
    public double groupKind;
    public double groupSide;
    public double person;
    public double[] noise;
    public double noiseCentre;
    public double outlierShare;
    public double outlierShift;
    public double outlierSpread;

    /** Standard deviation of the logarithm of each class's noise, left by prior and visits. */
    public double[] noiseDoubt;

    /** The same of {@link #group}. */
    public double groupDoubt;

    /** All 0. */
    VarianceComponents(int classes) {
        noise = new double[classes];
        noiseDoubt = new double[classes];
    }

    /** As assumed. */
    public static VarianceComponents of(Priors priors, int kinds) {
        VarianceComponents sizes = new VarianceComponents(2 * (kinds + 1));
        sizes.group = value(priors, "group");
        sizes.groupKind = value(priors, "group.kind");
        sizes.groupSide = value(priors, "group.side");
        sizes.person = value(priors, "person");
        sizes.noiseCentre = value(priors, "noise");
        sizes.outlierShare = value(priors, "outlier.share");
        sizes.outlierShift = value(priors, "outlier.shift");
        sizes.outlierSpread = value(priors, "outlier.spread");
        java.util.Arrays.fill(sizes.noise, sizes.noiseCentre);
        java.util.Arrays.fill(sizes.noiseDoubt, Math.hypot(spread(priors, "noise"), value(priors, "noise.kind")));
        sizes.groupDoubt = spread(priors, "group");
        return sizes;
    }

    static double value(Priors priors, String size) {
        return priors.line(Place.SIZE, "*", size, "-").value();
    }

    static double spread(Priors priors, String size) {
        return priors.line(Place.SIZE, "*", size, "-").spread();
    }

    /**
     * The class of noise of a visit.
     *
     * @param kind of its first part, -1 if it has none
     */
    public static int noiseClass(int kind, int parts) {
        return 2 * (kind + 1) + (parts > 1 ? 1 : 0);
    }

    public VarianceComponents copy() {
        VarianceComponents copy = new VarianceComponents(noise.length);
        copy.group = group;
        copy.groupKind = groupKind;
        copy.groupSide = groupSide;
        copy.person = person;
        copy.noise = noise.clone();
        copy.noiseCentre = noiseCentre;
        copy.outlierShare = outlierShare;
        copy.outlierShift = outlierShift;
        copy.outlierSpread = outlierSpread;
        copy.noiseDoubt = noiseDoubt.clone();
        copy.groupDoubt = groupDoubt;
        return copy;
    }
}
