package org.earslot.duration.fit;

/** What a pass over past visits adds up: the normal equations, and what the sizes of variance are stepped by. */
final class SweepAccumulator {

    final ArrowheadSystem arrow;
    double logLikelihood;
    double weight;
    final double[] classWeight;
    final double[] classSquares;
    double outlierWeight;
    double outlierPrecision;
    double outlierFirst;
    double outlierSquare;
    double personScore;
    double personInformation;

    /** Nothing yet. */
    SweepAccumulator(Fit fit) {
        arrow = new ArrowheadSystem(fit.layout.width, fit.layout.blockWidth, fit.groups);
        classWeight = new double[fit.sizes.noise.length];
        classSquares = new double[fit.sizes.noise.length];
    }

    void add(SweepAccumulator other) {
        arrow.add(other.arrow);
        logLikelihood += other.logLikelihood;
        weight += other.weight;
        for (int c = 0; c < classWeight.length; c++) {
            classWeight[c] += other.classWeight[c];
            classSquares[c] += other.classSquares[c];
        }
        outlierWeight += other.outlierWeight;
        outlierPrecision += other.outlierPrecision;
        outlierFirst += other.outlierFirst;
        outlierSquare += other.outlierSquare;
        personScore += other.personScore;
        personInformation += other.personInformation;
    }
}
