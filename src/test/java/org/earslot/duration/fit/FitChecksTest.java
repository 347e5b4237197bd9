package org.earslot.duration.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.earslot.reference.Reference;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;

/** The fit against R: numbers made by reference/fit-checks.R, stored with versions and calls in fit-checks.txt. */
class FitChecksTest {

    private static final Reference R = Reference.of("fit-checks");

    /** Data set ovarian of R package survival: futime, fustat, ecog.ps, rx. */
    private static final double[][] OVARIAN = {
        {59, 1, 1, 1}, {115, 1, 1, 1}, {156, 1, 2, 1}, {421, 0, 1, 2}, {431, 1, 1, 1}, {448, 0, 2, 1},
        {464, 1, 2, 2}, {475, 1, 2, 2}, {477, 0, 1, 1}, {563, 1, 2, 2}, {638, 1, 2, 1}, {744, 0, 1, 2},
        {769, 0, 2, 2}, {770, 0, 1, 2}, {803, 0, 1, 1}, {855, 0, 2, 1}, {1040, 0, 2, 1}, {1106, 0, 1, 1},
        {1129, 0, 1, 2}, {1206, 0, 1, 2}, {1227, 0, 2, 2}, {268, 1, 2, 1}, {329, 1, 1, 1}, {353, 1, 2, 2},
        {365, 1, 1, 2}, {377, 0, 1, 2}
    };

    /** Data set Dyestuff of R package lme4: yields of batches A to F, five each. */
    private static final double[] DYESTUFF = {
        1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495, 1595, 1550, 1605, 1510, 1560, 1445, 1440, 1595,
        1465, 1545, 1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445
    };

    /** The yields are fitted as logarithms, a thousandth each, so that their exponentials are finite. */
    private static final double PER_YIELD = 1e-3;

    /** survreg(Surv(futime, fustat) ~ ecog.ps + rx, ovarian, dist = "lognormal"). */
    @Test
    void jointMaximumLikelihoodAgreesWithSurvreg() {
        Fit fit = ovarian();
        double[] coefficients = R.values("survreg.coefficients");
        double ecog = number(fit, "ecog.ps");
        double rx = number(fit, "rx");
        double intercept = fit.beta[0] - ecog * centre(fit, "ecog.ps") - rx * centre(fit, "rx");
        assertThat(intercept).isCloseTo(coefficients[0], within(1e-6));
        assertThat(ecog).isCloseTo(coefficients[1], within(1e-6));
        assertThat(rx).isCloseTo(coefficients[2], within(1e-6));
        assertThat(fit.sizes.noise[0]).isCloseTo(R.value("survreg.scale"), within(1e-6));
        // survreg's density is of the time, not of its logarithm.
        double logs = 0;
        for (double[] patient : OVARIAN) {
            logs += patient[1] * Math.log(patient[0]);
        }
        assertThat(fit.progress.logLikelihood() - logs).isCloseTo(R.value("survreg.log_likelihood"), within(1e-6));
    }

    /** sqrt(diag(vcov(m))) of the same survreg: coefficients, then the logarithm of the scale. */
    @Test
    void jointLikelihoodBendsAsSurvregsStandardErrorsSay() {
        Fit fit = ovarian();
        int[] columns = {0, column(fit, "ecog.ps"), column(fit, "rx")};
        double[] best = {fit.beta[columns[0]], fit.beta[columns[1]], fit.beta[columns[2]], Math.log(fit.sizes.noise[0])
        };
        int width = best.length;
        double step = 1e-3;
        double[][] bend = new double[width][width];
        for (int i = 0; i < width; i++) {
            for (int j = 0; j < width; j++) {
                double sum = 0;
                for (int sign = 0; sign < 4; sign++) {
                    double[] moved = best.clone();
                    moved[i] += (sign & 1) == 0 ? step : -step;
                    moved[j] += (sign & 2) == 0 ? step : -step;
                    sum += (sign == 0 || sign == 3 ? 1 : -1) * logLikelihood(fit, columns, moved);
                }
                bend[i][j] = -sum / (4 * step * step);
            }
        }
        RealMatrix covariance = MatrixUtils.inverse(MatrixUtils.createRealMatrix(bend));
        assertErrors(fit, covariance, R.values("survreg.standard_errors"), 1e-5);
    }

    /** sqrt(diag(vcov(h))) of survreg with its scale held: the covariance that a fit keeps takes the sizes as known. */
    @Test
    void keepsTheCovarianceOfCoefficientsGivenTheScale() {
        Fit fit = ovarian();
        int[] columns = {0, column(fit, "ecog.ps"), column(fit, "rx")};
        double[] covariance = fit.solved().covariance();
        RealMatrix kept = MatrixUtils.createRealMatrix(3, 3);
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 3; j++) {
                kept.setEntry(i, j, covariance[columns[i] * fit.layout.width + columns[j]]);
            }
        }
        assertErrors(fit, kept, R.values("survreg.standard_errors.scale_known"), 1e-6);
    }

    /** From centred and scaled columns to those of the table. */
    private static void assertErrors(Fit fit, RealMatrix covariance, double[] errors, double enough) {
        RealMatrix back = MatrixUtils.createRealIdentityMatrix(errors.length);
        String[] names = {"ecog.ps", "rx"};
        for (int k = 0; k < names.length; k++) {
            double scale = fit.layout.numberScale[numberFactor(fit, names[k])];
            back.setEntry(0, k + 1, -centre(fit, names[k]) / scale);
            back.setEntry(k + 1, k + 1, 1 / scale);
        }
        RealMatrix own = back.multiply(covariance).multiply(back.transpose());
        for (int k = 0; k < errors.length; k++) {
            assertThat(Math.sqrt(own.getEntry(k, k))).as("error %d", k).isCloseTo(errors[k], within(enough));
        }
    }

    /** The criterion at other coefficients and another scale (its logarithm last); it is of no use afterwards. */
    private static double logLikelihood(Fit fit, int[] columns, double[] at) {
        for (int k = 0; k < columns.length; k++) {
            fit.beta[columns[k]] = at[k];
        }
        fit.sizes.noise[0] = Math.exp(at[columns.length]);
        return fit.run(1, -1).progress.logLikelihood();
    }

    private static Fit ovarian() {
        List<VisitRow> rows = new ArrayList<>();
        for (double[] patient : OVARIAN) {
            rows.add(VisitTerms.of(
                            List.of(Term.number("ecog.ps", patient[2]), Term.number("rx", patient[3])), List.of(), null)
                    .took(patient[0], patient[1] == 1 ? Ending.COMPLETED : Ending.STOPPED_FOR_TIME));
        }
        return fit(rows, Fit.Criterion.JOINT_MAXIMUM_LIKELIHOOD);
    }

    /** lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = FALSE). */
    @Test
    void jointMaximumLikelihoodAgreesWithLmer() {
        Fit fit = fit(dyestuff(), Fit.Criterion.JOINT_MAXIMUM_LIKELIHOOD);
        double square = PER_YIELD * PER_YIELD;
        assertThat(fit.beta[0] / PER_YIELD).isCloseTo(R.value("lmer.ml.mean"), within(1e-6));
        assertThat(fit.sizes.group * fit.sizes.group / square)
                .isCloseTo(R.values("lmer.ml.variances")[0], within(1e-4 * 1388));
        assertThat(fit.sizes.noise[0] * fit.sizes.noise[0] / square)
                .isCloseTo(R.values("lmer.ml.variances")[1], within(1e-4 * 2451));
        double deviance = -2 * fit.progress.logLikelihood() - 2 * DYESTUFF.length * Math.log(PER_YIELD);
        assertThat(deviance).isCloseTo(R.value("lmer.ml.deviance"), within(1e-4));
    }

    /** lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = TRUE), with its predictions of the batches. */
    @Test
    void evidenceAgreesWithRestrictedMaximumLikelihood() {
        Fit fit = fit(dyestuff(), Fit.Criterion.FLAT_EVIDENCE);
        double square = PER_YIELD * PER_YIELD;
        assertThat(fit.sizes.group * fit.sizes.group / square)
                .isCloseTo(R.values("lmer.reml.variances")[0], within(1e-4 * 1764));
        assertThat(fit.sizes.noise[0] * fit.sizes.noise[0] / square)
                .isCloseTo(R.values("lmer.reml.variances")[1], within(1e-4 * 2451));
        double[] batches = R.values("lmer.reml.batches");
        for (int g = 0; g < batches.length; g++) {
            int group = fit.layout.vocabulary.groups.find(String.valueOf((char) ('A' + g)));
            assertThat(fit.block[group][0] / PER_YIELD).isCloseTo(batches[g], within(1e-3));
        }
    }

    /** nls on the stored invented table additive-mean.csv. */
    @Test
    void additiveMeanAgreesWithNls() {
        List<VisitRow> rows = new ArrayList<>();
        for (double[] visit : table("additive-mean.csv")) {
            List<Part> parts = new ArrayList<>();
            parts.add(Part.planned("1", "ear", Term.number("hard", visit[2])));
            if (visit[1] == 1) {
                parts.add(Part.planned("2", "ear", Term.number("hard", visit[3])));
            }
            rows.add(VisitTerms.of(List.of(Term.number("first", visit[0])), parts, null)
                    .took(visit[4], Ending.COMPLETED));
        }
        Fit fit = fit(rows, Fit.Criterion.JOINT_MAXIMUM_LIKELIHOOD);
        double[] nls = R.values("nls.coefficients");
        double first = number(fit, "first");
        double hard = number(fit, "hard");
        assertThat(fit.beta[0] - first * centre(fit, "first")).isCloseTo(nls[0], within(1e-6));
        assertThat(first).isCloseTo(nls[1], within(1e-6));
        assertThat(fit.beta[1] - hard * centre(fit, "hard")).isCloseTo(nls[2], within(1e-6));
        assertThat(hard).isCloseTo(nls[3], within(1e-6));
        assertThat(fit.sizes.noise[0]).isCloseTo(R.value("nls.root_mean_square"), within(1e-6));
    }

    private static List<VisitRow> dyestuff() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < DYESTUFF.length; i++) {
            String batch = String.valueOf((char) ('A' + i / 5));
            rows.add(VisitTerms.of(List.of(), List.of(), batch)
                    .took(Math.exp(DYESTUFF[i] * PER_YIELD), Ending.COMPLETED));
        }
        return rows;
    }

    private static Fit fit(List<VisitRow> rows, Fit.Criterion criterion) {
        PastVisits visits = PastVisits.of(rows, Vocabulary.of(Priors.weak()));
        return new Fit(new Design(visits, Priors.weak()), criterion)
                .on(visits.count, visits.weight, ReportTables.assumed(visits.vocabulary, Priors.weak()))
                .run(5000, 1e-12);
    }

    private static int numberFactor(Fit fit, String name) {
        return fit.layout.vocabulary.factors.find(name);
    }

    private static int column(Fit fit, String name) {
        int factor = numberFactor(fit, name);
        int once = fit.layout.numberColumns[0][factor];
        return once != Layout.NONE ? once : fit.layout.numberColumns[1][factor];
    }

    private static double number(Fit fit, String name) {
        return fit.beta[column(fit, name)] / fit.layout.numberScale[numberFactor(fit, name)];
    }

    private static double centre(Fit fit, String name) {
        return fit.layout.numberCentre[numberFactor(fit, name)];
    }

    private static List<double[]> table(String name) {
        List<double[]> rows = new ArrayList<>();
        try (BufferedReader lines = new BufferedReader(new InputStreamReader(
                FitChecksTest.class.getResourceAsStream("/reference/" + name), StandardCharsets.UTF_8))) {
            lines.readLine();
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                String[] cells = line.split(",");
                double[] row = new double[cells.length];
                for (int i = 0; i < row.length; i++) {
                    row[i] = Double.parseDouble(cells[i]);
                }
                rows.add(row);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return rows;
    }
}
