package org.earslot.duration.predict;

import org.earslot.duration.table.Names;
import org.jspecify.annotations.Nullable;

/**
 * The model, its likelihood, and where by it the logarithm of a visit's minutes lies. The fit ({@code fit.Fit}), the
 * forecast ({@link Forecast}) and the breakdown ({@link WhyThisLong}) all take the location from here.
 *
 * <p>Visit v, of group g and person k, called in l minutes late, takes
 *
 * <pre>
 *   T_v  = exp(u_g + w_k + h(l) + e_v) (m_v0 + m_v1 + ...)     minutes; segment 0 is paid once, the others are the parts
 *   m_v0 = exp(x_v0 beta + a l)                                paid once
 *   m_vs = exp(x_vs beta + q_g,kind(s) + r_g,side(s))          part s
 *   h(l) = b_1 min(12, l) + b_2 min(18, max(0, l - 12))        people hurry when late
 *   mu_v = log(m_v0 + m_v1 + ...) + u_g + w_k + h(l)           the location
 * </pre>
 *
 * <table>
 * <caption>Symbols, all on the log scale but T and m</caption>
 * <tr><td>beta<td>coefficients by column ({@link Layout}), with a, b_1 and b_2 among them; normal beforehand
 *     ({@code fit.LayoutBuilder})
 * <tr><td>x_vs<td>row of the design: 1 for the minutes of the segment's kind and for each level other than the
 *     reference; numbers centred and scaled
 * <tr><td>u_g, q_g, r_g<td>the block of a group: on the whole visit, on each kind, on each side; normal about 0 with
 *     standard deviations group, groupKind and groupSide ({@link VarianceComponents})
 * <tr><td>w_k<td>of a person; normal about 0 with standard deviation person
 * <tr><td>e_v<td>noise: with probability 1 - p normal about 0 with standard deviation sigma_c, else (an outlier) normal
 *     about d with standard deviation f sigma_c; c is the class of noise (kind of the first part; one part or several)
 * </table>
 *
 * <p>With t_v the minutes taken, J_v the combinations of levels that the findings not known may have, and P(j) their
 * probability by reports, circumstances and memory ({@code findings.FindingTable}), the fit maximises
 *
 * <pre>
 *   log L = sum over v of weight_v log( sum over j in J_v of P(j) L_vj ) + log prior(beta, u, q, r, w)
 *   L_vj  = density of e at log t_v - mu_vj      if the work was completed
 *         = P(e &gt; log t_v - mu_vj)              if the visit was stopped early: t_v is a lower bound
 * </pre>
 *
 * <p>{@code fit.Noise} gives L and its derivatives by mu, {@code fit.RowStep} those of a visit, {@code
 * fit.MarginalisedRow} the sum over j. The derivative of mu by the coefficients is each segment's share of the minutes
 * times its row of the design ({@link Gradient}). The standard deviations maximise the evidence, L with beta, u, q, r and
 * w integrated out by Laplace, times their priors ({@code fit.VarianceUpdate}). A forecast has the locations of the visit
 * under all of J_v, each with the posterior variance of mu ({@link Posterior}) added to the noise.
 *
 * @param beta coefficients by column
 */
public record Location(Layout layout, double[] beta) {

    /**
     * Log minutes of a segment with nothing particular about it.
     *
     * @param place 0 for what is paid once, then the kinds
     */
    double base(int place) {
        int since = layout.since[place];
        return beta[layout.base[place]] + (since == Layout.NONE ? 0 : beta[since]);
    }

    /**
     * x beta for a row of the design.
     *
     * @param value of each column, null where all are 1
     */
    public double columns(int[] column, double @Nullable [] value, int first, int end) {
        double sum = 0;
        for (int c = first; c < end; c++) {
            double b = beta[column[c]];
            sum += value == null ? b : b * value[c];
        }
        return sum;
    }

    /**
     * What a term adds to the log minutes of its segment; where its level is not known, the logarithm of the expected
     * multiplier.
     */
    double term(Query.Entry entry) {
        if (entry.number()) {
            return beta[entry.columns()[0]] * entry.shares()[0];
        }
        double expected = 0;
        for (int level = 0; level < entry.shares().length; level++) {
            int column = entry.columns()[level];
            double share = entry.shares()[level];
            if (share == 1) {
                return column == Layout.NONE ? 0 : beta[column];
            }
            if (share > 0) {
                expected += share * (column == Layout.NONE ? 1 : Math.exp(beta[column]));
            }
        }
        return Math.log(expected);
    }

    /**
     * What a segment's group, or in what is paid once lateness, adds to its log minutes.
     *
     * @param kind {@link Names#NONE} for what is paid once
     * @param side {@link Names#NONE} where there is none
     * @param block of the group, null for one not known
     */
    public double inside(int kind, int side, double late, double @Nullable [] block) {
        if (kind == Names.NONE) {
            return layout.lateColumn == Layout.NONE ? 0 : beta[layout.lateColumn] * late;
        }
        if (block == null) {
            return 0;
        }
        double ofKind = block[layout.kindInBlock(kind)];
        return side == Names.NONE ? ofKind : ofKind + block[layout.sideInBlock(side)];
    }

    /** What is added to the logarithm of the segments' minutes together: u + w + h(l). */
    public double beyond(double late, double person, double @Nullable [] block) {
        return person + latenessEffect(late) + (block == null ? 0 : block[0]);
    }

    /** h(l). */
    double latenessEffect(double late) {
        double sum = 0;
        for (int bend = 0; bend < layout.hurry.length && late > 0 && layout.hurry[bend] != Layout.NONE; bend++) {
            sum += beta[layout.hurry[bend]] * Layout.hurry(bend, late);
        }
        return sum;
    }
}
