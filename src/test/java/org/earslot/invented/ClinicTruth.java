package org.earslot.invented;

import java.util.Set;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.hipparchus.special.Erf;
import org.jspecify.annotations.Nullable;

/**
 * How long visits truly take in one invented clinic. Every number is drawn from the clinic's seed, and the form is
 * not that of any estimator: minutes that add (history on a first visit, hearing aids, water instilled again), effects of
 * hardness that bend, narrow canals that matter for hard wax only, fragments that take gamma minutes in some ears and none
 * in most, skill by practitioner and method, hurry that starts only when clearly late and then levels off, tiredness over
 * the session, noise with heavy tails. The sizes are invented; that hand instruments are slower, that loose wax leaves in
 * pieces, that the bony canal is tender and that the far ear is slower is common practice, no source.
 */
public final class ClinicTruth {

    private static final int METHODS = Method.values().length;
    private static final int IRRIGATION = Method.IRRIGATION.ordinal();
    private static final int SUCTION = Method.MICROSUCTION.ordinal();
    private static final int HAND = Method.MANUAL_REMOVAL.ordinal();

    /** The middle of each wax level on a scale of hardness. */
    private static final double[] HARDNESS = {-1.2, -0.6, 0.1, 0.8, 1.7};

    private static final int PER_UNIT = 400;
    private static final double[] NORMAL = normalTable();

    /** No visit goes on for longer. */
    static final double LONGEST = 150;

    final int practitioners;
    final int referrers;

    /** Log pace of each practitioner, and skill on top by method. */
    final double[] pace;

    final double[][] skill;
    final boolean[] rightHanded;
    final double[] farSide;
    final double personSpread;
    final double[] noise;
    final double[] mix;
    final double[] waxCuts;
    final double habit;
    final double aidShift;
    final double softening;
    final double compliance;
    final double[] canalShares;
    final double canalAgreement;
    final double[][] depthShares;
    final double[] occlusionShares;
    final ReportHabit[][] reports;
    final ReportHabit[] notes;
    final double noteMissing;
    final double[] stopHazard;

    private final double setUp;
    private final double history;
    private final double aidMinutes;
    private final double support;
    private final double[] earMinutes;
    private final double[] hardSlope;
    private final double[] hardKnee;
    private final double looseByHand;
    private final double[] depthSlope;
    private final double[] canalSlope;
    private final double narrowHard;
    private final double[] fill;
    private final double[] softenedEase;
    private final double[] stubbornLevel;
    private final double stubbornHard;
    private final double stubbornDeep;
    private final double stubbornMinutes;
    private final double secondWater;
    private final double waterMinutes;
    private final double secondEar;
    private final double[] switching;
    private final double[] cautionPace;
    private final double hurryMost;
    private final double hurryFrom;
    private final double tiring;
    private final double tailShare;
    private final double tailWidth;
    private final double[] noisePoints;

    ClinicTruth(long seed, int practitioners) {
        Luck luck = new Luck(seed * 0x9E3779B97F4A7C15L + 17);
        this.practitioners = practitioners;
        referrers = 5 + luck.below(4);
        pace = normals(luck, practitioners, luck.between(0.06, 0.18));
        skill = new double[practitioners][];
        rightHanded = new boolean[practitioners];
        farSide = new double[practitioners];
        for (int i = 0; i < practitioners; i++) {
            skill[i] = normals(luck, METHODS, luck.between(0.03, 0.12));
            rightHanded[i] = luck.happens(0.88);
            farSide[i] = luck.between(-0.02, 0.16);
        }
        personSpread = luck.between(0.07, 0.18);
        noise = between(luck, new double[] {0.20, 0.22, 0.18}, new double[] {0.32, 0.34, 0.30});
        mix = between(luck, new double[] {0.15, 0.4, 0.15}, new double[] {0.4, 0.8, 0.35});
        waxCuts = between(luck, new double[] {-1.5, -0.6, -0.05, 0.65}, new double[] {-1.1, -0.2, 0.25, 1.05});
        habit = luck.between(0.3, 0.7);
        aidShift = luck.between(0, 0.4);
        softening = luck.between(0.3, 0.9);
        compliance = luck.between(0.65, 0.9);
        canalShares = between(luck, new double[] {0.1, 0.45, 0.15, 0.03}, new double[] {0.2, 0.65, 0.28, 0.09});
        canalAgreement = luck.between(0.4, 0.75);
        depthShares = new double[][] {
            between(luck, new double[] {0.25, 0.3, 0.1}, new double[] {0.4, 0.5, 0.2}),
            between(luck, new double[] {0.15, 0.4, 0.15}, new double[] {0.25, 0.55, 0.35})
        };
        occlusionShares = between(luck, new double[] {0.03, 0.25, 0.4}, new double[] {0.1, 0.4, 0.65});
        reports = new ReportHabit[referrers][EarState.FIELDS];
        for (ReportHabit[] referrer : reports) {
            double care = luck.unit();
            for (int field = 0; field < EarState.FIELDS; field++) {
                referrer[field] = new ReportHabit(
                        Math.min(0.92, luck.between(0.15, 0.75) * (1.3 - 0.6 * care)),
                        luck.between(0.1, 0.35) + 0.3 * (1 - care),
                        luck.between(0.5, 2.5));
            }
        }
        notes = new ReportHabit[EarState.FIELDS];
        for (int field = 0; field < EarState.FIELDS; field++) {
            notes[field] = new ReportHabit(luck.between(0.01, 0.06), luck.between(0.01, 0.06), 1);
        }
        noteMissing = luck.between(0.04, 0.14);
        stopHazard = between(luck, new double[] {0.0005, 0.001, 0.001}, new double[] {0.003, 0.005, 0.006});
        setUp = luck.between(2.8, 5.2);
        history = luck.between(0.8, 3.2);
        aidMinutes = luck.between(0.2, 1.2);
        support = luck.between(1.05, 1.3);
        earMinutes = between(luck, new double[] {3.2, 4.2, 5.2}, new double[] {5.6, 7.0, 9.0});
        hardSlope = between(luck, new double[] {0.25, 0.25, 0.05}, new double[] {0.6, 0.55, 0.25});
        hardKnee = between(luck, new double[] {-0.4, 0.0, 0.6}, new double[] {0.6, 0.9, 1.4});
        looseByHand = luck.between(0.05, 0.3);
        depthSlope = between(luck, new double[] {0.02, 0.08, 0.15}, new double[] {0.15, 0.25, 0.4});
        canalSlope = between(luck, new double[] {0.03, 0.08, 0.08}, new double[] {0.15, 0.25, 0.3});
        narrowHard = luck.between(0.05, 0.4);
        fill = new double[] {luck.between(0.55, 0.8), 1, luck.between(1.1, 1.35)};
        softenedEase = between(luck, new double[] {0.7, 0.78, 0.85}, new double[] {0.92, 0.97, 1.1});
        stubbornLevel = between(luck, new double[] {-4, -3.8, -3.8}, new double[] {-2.8, -2.5, -2.5});
        stubbornHard = luck.between(0.3, 0.9);
        stubbornDeep = luck.between(0.1, 0.6);
        stubbornMinutes = luck.between(4, 9);
        secondWater = luck.between(0.15, 0.5);
        waterMinutes = luck.between(3, 6);
        secondEar = luck.between(0.86, 1.03);
        switching = between(luck, new double[] {0.06, 0.04, 0.03}, new double[] {0.15, 0.13, 0.1});
        cautionPace = between(luck, new double[] {0, 0, 0, 0}, new double[] {0.18, 0.15, 0.2, 0.12});
        hurryMost = luck.between(0.05, 0.16);
        hurryFrom = luck.between(4, 10);
        tiring = luck.between(0, 0.08);
        tailShare = luck.between(0.03, 0.09);
        tailWidth = luck.between(1.6, 2.3);
        noisePoints = noisePoints();
    }

    private static double[] normals(Luck luck, int count, double spread) {
        double[] drawn = new double[count];
        for (int i = 0; i < count; i++) {
            drawn[i] = spread * luck.normal();
        }
        return drawn;
    }

    private static double[] between(Luck luck, double[] low, double[] high) {
        double[] drawn = new double[low.length];
        for (int i = 0; i < low.length; i++) {
            drawn[i] = luck.between(low[i], high[i]);
        }
        return drawn;
    }

    /** Share of each wax level, for a patient of this tendency, before or after softener. */
    double[] waxShares(double tendency, boolean hearingAid, double softened) {
        double middle = habit * tendency + (hearingAid ? aidShift : 0) - softening * softened;
        double spread = Math.sqrt(1 - habit * habit);
        double[] shares = new double[HARDNESS.length];
        double below = 0;
        for (int level = 0; level < shares.length; level++) {
            double upTo = level < waxCuts.length ? normalCdf((waxCuts[level] - middle) / spread) : 1;
            shares[level] = upTo - below;
            below = upTo;
        }
        return shares;
    }

    /** How far wax is softened after these days of softener truly used: most of it after three, all after seven. */
    double softened(int days) {
        return 1 - Math.exp(-days / 2.5);
    }

    /** What one ear takes, in minutes before pace, person and noise; and the methods it took. */
    record EarWork(double minutes, boolean switched) {}

    /**
     * One ear, its unseen difficulty and its fragments drawn by luck.
     *
     * @param unseen what no finding shows, about 0 with spread 1
     * @param forced whether the method is known to have changed (null: luck decides)
     */
    EarWork ear(
            Luck luck,
            int practitioner,
            Method planned,
            Ear side,
            EarState state,
            double unseen,
            double softened,
            Set<Caution> cautions,
            @Nullable Boolean forced) {
        int method = planned.ordinal();
        double hardness = HARDNESS[state.wax()] + 0.3 * unseen;
        boolean switched = forced == null ? luck.happens(switchChance(method, state, hardness)) : forced;
        double minutes = plain(practitioner, method, side, state, hardness, unseen, softened, cautions);
        if (switched) {
            int other = method == SUCTION ? HAND : SUCTION;
            minutes = luck.between(0.3, 0.9) * minutes
                    + 1
                    + 0.75 * plain(practitioner, other, side, state, hardness, unseen, softened, cautions);
        }
        double stubborn =
                1 / (1 + Math.exp(-stubbornLevel[method] - stubbornHard * hardness - stubbornDeep * state.depth()));
        if (luck.happens(stubborn)) {
            minutes += luck.gamma(1.3, stubbornMinutes);
        }
        if (method == IRRIGATION && hardness > 0.5 && softened < 0.6 && luck.happens(secondWater)) {
            minutes += waterMinutes * luck.between(0.7, 1.4);
        }
        return new EarWork(minutes, switched);
    }

    double switchChance(int method, EarState state, double hardness) {
        double strain = method == HAND ? -hardness : hardness + 0.5 * (state.canal() - 1);
        return switching[method] * Math.min(3, Math.exp(0.6 * strain));
    }

    double switchChance(Method method, EarState state, double unseen) {
        return Math.min(1, switchChance(method.ordinal(), state, HARDNESS[state.wax()] + 0.3 * unseen));
    }

    private double plain(
            int practitioner,
            int method,
            Ear side,
            EarState state,
            double hardness,
            double unseen,
            double softened,
            Set<Caution> cautions) {
        double bend = hardSlope[method] * soft(hardness - hardKnee[method]);
        if (method == HAND) {
            bend += looseByHand * Math.max(0, -hardness + 0.3);
        }
        double depth = depthSlope[method] * state.depth() * (1 + 0.2 * unseen);
        double tight = state.canal() - 1;
        double canal = canalSlope[method] * tight + (hardness > 0.5 && tight > 0 ? narrowHard : 0);
        boolean far = (side == Ear.LEFT) == rightHanded[practitioner];
        double care = 0;
        if (cautions.contains(Caution.TINNITUS) && method == SUCTION) {
            care += cautionPace[0];
        }
        if (cautions.contains(Caution.ANTICOAGULANT)) {
            care += method == HAND ? 1.3 * cautionPace[1] : cautionPace[1];
        }
        if (cautions.contains(Caution.PERFORATION)) {
            care += cautionPace[2];
        }
        if (cautions.contains(Caution.DIABETES)) {
            care += cautionPace[3];
        }
        double ease = 1 + (softenedEase[method] - 1) * softened;
        return earMinutes[method]
                * ease
                * fill[state.occlusion()]
                * Math.exp(
                        bend + depth + canal + care + skill[practitioner][method] + (far ? farSide[practitioner] : 0));
    }

    /** A straight line from 0 upwards with a rounded knee, at most 2.5. */
    private static double soft(double x) {
        return Math.min(2.5, Math.log1p(Math.exp(2 * x)) / 2);
    }

    /** Minutes of the whole visit before pace, person and noise. */
    double work(boolean firstVisit, boolean hearingAid, Set<Caution> cautions, double... ears) {
        double once = setUp + (firstVisit ? history : 0) + (hearingAid ? aidMinutes : 0);
        double both = ears.length == 1 ? ears[0] : ears[0] + secondEar * ears[1];
        return (once + both) * (cautions.contains(Caution.NEEDS_SUPPORT) ? support : 1);
    }

    /** Multiplier when called in so many minutes late: none at first, then falling, then level. */
    public double hurry(double late) {
        return 1 - hurryMost * Math.min(1, Math.max(0, late - hurryFrom) / 15);
    }

    /** Multiplier at this place of the session (0 first, 1 last). */
    double tiredness(double place) {
        return 1 + tiring * place * place;
    }

    /** The noise at this probability, in units of the method's own spread. */
    double noiseAt(double probability) {
        double at = probability * noisePoints.length - 0.5;
        int low = (int) Math.max(0, Math.min(noisePoints.length - 2, Math.floor(at)));
        return noisePoints[low] + (at - low) * (noisePoints[low + 1] - noisePoints[low]);
    }

    /** Density of the noise, in the same units. */
    double noiseDensity(double z) {
        return (1 - tailShare) * bell(z) + tailShare * bell(z / tailWidth) / tailWidth;
    }

    /** Probability that the noise is above z. */
    double noiseAbove(double z) {
        return (1 - tailShare) * normalCdf(-z) + tailShare * normalCdf(-z / tailWidth);
    }

    private double[] noisePoints() {
        double[] points = new double[4000];
        double z = -7.9;
        for (int i = 0; i < points.length; i++) {
            double above = 1 - (i + 0.5) / points.length;
            double low = z;
            double high = 7.9;
            for (int halving = 0; halving < 50; halving++) {
                double middle = (low + high) / 2;
                if (noiseAbove(middle) > above) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            z = low;
            points[i] = z;
        }
        return points;
    }

    private static double bell(double z) {
        return Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
    }

    /** From a table, straight between its points: within 1e-6, and far quicker than the error function. */
    static double normalCdf(double z) {
        double at = (Math.min(7.99, Math.max(-7.99, z)) + 8) * PER_UNIT;
        int low = (int) at;
        return NORMAL[low] + (at - low) * (NORMAL[low + 1] - NORMAL[low]);
    }

    private static double[] normalTable() {
        double[] table = new double[16 * PER_UNIT + 1];
        for (int i = 0; i < table.length; i++) {
            table[i] = 0.5 * Erf.erfc(-((double) i / PER_UNIT - 8) / Math.sqrt(2));
        }
        return table;
    }
}
