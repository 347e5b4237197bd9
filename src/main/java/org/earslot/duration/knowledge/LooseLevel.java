package org.earslot.duration.knowledge;

import org.earslot.duration.predict.Layout;
import org.earslot.duration.predict.OncePlusPartsModel;
import org.earslot.duration.predict.Posterior;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;

/**
 * What visits say together with priors that are less sure of the level of all minutes. Who knows a clinic knows its level
 * better than priors for any clinic do: so these may be wrong by a common factor exp(l), l ~ N(0, a^2), a = 0.35.
 *
 * <p>With u = 1 in the columns of base minutes, else 0, the priors' precision Q of N(m, Q^-1) becomes Q - c v v', where
 * v = Q u and c = a^2 / (1 + a^2 u'Q u) (Sherman and Morrison); so what the fit found, N(b, P), becomes
 *
 * <pre>
 *   P' = P + k (P v)(P v)',   k = c / (1 - c v'P v),   b' = b + k P v v'(b - m)
 * </pre>
 *
 * <p>and practitioners' own effects follow by their covariance with b. With no visit this is P + a^2 u u', b. A level that
 * was found to walk from day to day is loose already, and its variance is in P: nothing is added then.
 */
final class LooseLevel {

    private static final double FACTOR = 0.35;

    private LooseLevel() {}

    static Posterior of(OncePlusPartsModel model) {
        Posterior found = model.posterior();
        if (model.past().walk() > 0) {
            return found;
        }
        Layout layout = model.layout();
        int width = layout.width;
        double[] v = new double[width];
        double precision = 0;
        double off = 0;
        for (int place = 0; place <= layout.kinds; place++) {
            Prior base = base(layout, place);
            double own = 1 / (base.spread() * base.spread());
            v[layout.base[place]] = own;
            precision += own;
            off += own * (found.beta()[layout.base[place]] - Math.log(base.value()));
        }
        double c = FACTOR * FACTOR / (1 + FACTOR * FACTOR * precision);
        double[] pulled = times(v, found.covariance(), width);
        double square = 0;
        for (int j = 0; j < width; j++) {
            square += v[j] * pulled[j];
        }
        double k = c / (1 - c * square);
        int groups = found.block().length;
        double[][] block = new double[groups][];
        double[][] cross = new double[groups][];
        double[][] own = new double[groups][];
        for (int g = 0; g < groups; g++) {
            double[] pulledBlock = times(v, found.cross()[g], found.block()[g].length);
            block[g] = moved(found.block()[g], pulledBlock, k * off);
            cross[g] = wider(found.cross()[g], pulled, pulledBlock, k);
            own[g] = wider(found.own()[g], pulledBlock, pulledBlock, k);
        }
        return new Posterior(
                moved(found.beta(), pulled, k * off),
                wider(found.covariance(), pulled, pulled, k),
                block,
                cross,
                own,
                found.sizes(),
                found.personsTold(),
                found.widths());
    }

    private static Prior base(Layout layout, int place) {
        return place == 0
                ? layout.priors.line(Place.ONCE, "*", "-", "-")
                : layout.priors.line(Place.PART, layout.vocabulary.kinds.name(place - 1), "-", "-");
    }

    /** v' A, of so many columns. */
    private static double[] times(double[] v, double[] a, int columns) {
        double[] product = new double[columns];
        for (int j = 0; j < v.length; j++) {
            for (int i = 0; v[j] != 0 && i < columns; i++) {
                product[i] += v[j] * a[j * columns + i];
            }
        }
        return product;
    }

    private static double[] moved(double[] from, double[] by, double times) {
        double[] moved = from.clone();
        for (int i = 0; i < moved.length; i++) {
            moved[i] += times * by[i];
        }
        return moved;
    }

    private static double[] wider(double[] a, double[] rows, double[] columns, double times) {
        double[] wider = a.clone();
        for (int i = 0; i < rows.length; i++) {
            for (int j = 0; j < columns.length; j++) {
                wider[i * columns.length + j] += times * rows[i] * columns[j];
            }
        }
        return wider;
    }
}
