package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * The fit against R: numbers made by reference/fit-checks.R with R 4.2.2, survival 3.5-3, lme4 1.1-31.
 */
class FitChecksTest {

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
        List<VisitRow> rows = new ArrayList<>();
        double logs = 0;
        for (double[] patient : OVARIAN) {
            rows.add(VisitTerms.of(
                            List.of(Term.number("ecog.ps", patient[2]), Term.number("rx", patient[3])), List.of(), null)
                    .took(patient[0], patient[1] == 1 ? Ending.COMPLETED : Ending.STOPPED_FOR_TIME));
            logs += patient[1] * Math.log(patient[0]);
        }
        Fit fit = fit(rows, Fit.Criterion.JOINT_MAXIMUM_LIKELIHOOD);
        double ecog = number(fit, "ecog.ps");
        double rx = number(fit, "rx");
        double intercept = fit.beta[0] - ecog * centre(fit, "ecog.ps") - rx * centre(fit, "rx");
        assertThat(intercept).isCloseTo(5.878440349975043, within(1e-6));
        assertThat(ecog).isCloseTo(-0.229274996182328, within(1e-6));
        assertThat(rx).isCloseTo(0.813359148397217, within(1e-6));
        assertThat(fit.sizes.noise[0]).isCloseTo(1.18135264387767, within(1e-6));
        // survreg's density is of the time, not of its logarithm.
        assertThat(fit.logLikelihood - logs).isCloseTo(-95.9473633595646, within(1e-6));
    }

    /** lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = FALSE). */
    @Test
    void jointMaximumLikelihoodAgreesWithLmer() {
        Fit fit = fit(dyestuff(), Fit.Criterion.JOINT_MAXIMUM_LIKELIHOOD);
        double square = PER_YIELD * PER_YIELD;
        assertThat(fit.beta[0] / PER_YIELD).isCloseTo(1527.5, within(1e-6));
        assertThat(fit.sizes.group * fit.sizes.group / square).isCloseTo(1388.3333, within(1e-4 * 1388));
        assertThat(fit.sizes.noise[0] * fit.sizes.noise[0] / square).isCloseTo(2451.25, within(1e-4 * 2451));
        double deviance = -2 * fit.logLikelihood - 2 * DYESTUFF.length * Math.log(PER_YIELD);
        assertThat(deviance).isCloseTo(327.327059881135, within(1e-4));
    }

    /** lmer(Yield ~ 1 + (1 | Batch), Dyestuff, REML = TRUE), with its predictions of the batches. */
    @Test
    void evidenceAgreesWithRestrictedMaximumLikelihood() {
        Fit fit = fit(dyestuff(), Fit.Criterion.FLAT_EVIDENCE);
        double square = PER_YIELD * PER_YIELD;
        assertThat(fit.sizes.group * fit.sizes.group / square).isCloseTo(1764.05, within(1e-4 * 1764));
        assertThat(fit.sizes.noise[0] * fit.sizes.noise[0] / square).isCloseTo(2451.25, within(1e-4 * 2451));
        double[] batches = {-17.6068514, 0.3912634, 28.5622256, -23.0845385, 56.7331877, -44.9952868};
        for (int g = 0; g < batches.length; g++) {
            assertThat(fit.block[g][0] / PER_YIELD).isCloseTo(batches[g], within(1e-3));
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
        double first = number(fit, "first");
        double hard = number(fit, "hard");
        assertThat(fit.beta[0] - first * centre(fit, "first")).isCloseTo(NLS[0], within(1e-6));
        assertThat(first).isCloseTo(NLS[1], within(1e-6));
        assertThat(fit.beta[1] - hard * centre(fit, "hard")).isCloseTo(NLS[2], within(1e-6));
        assertThat(hard).isCloseTo(NLS[3], within(1e-6));
        assertThat(fit.sizes.noise[0]).isCloseTo(NLS[4], within(1e-6));
    }

    /** a0, a1, b0, b1 and root mean square, as reference/fit-checks.R prints them. */
    private static final double[] NLS = {
        1.477227631091006, 0.309127006190882, 1.548176663794130, 0.567847616861594, 0.253454981936035
    };

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
        Layout layout = new Layout(visits, Priors.weak());
        Fit fit = new Fit(visits, layout, new Design(visits, layout), criterion);
        fit.stretch(visits.count, visits.weight, new ReportTables(layout.vocabulary, layout.priors));
        fit.run(5000, 1e-12);
        return fit;
    }

    private static int numberFactor(Fit fit, String name) {
        return fit.layout.vocabulary.factors.find(name);
    }

    private static double number(Fit fit, String name) {
        int factor = numberFactor(fit, name);
        int once = fit.layout.numberColumns[0][factor];
        int column = once != Layout.NONE ? once : fit.layout.numberColumns[1][factor];
        return fit.beta[column] / fit.layout.numberScale[factor];
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
