package org.earslot.duration.knowledge;

import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.predict.OncePlusPartsModel;
import org.earslot.duration.predict.Posterior;
import org.earslot.duration.predict.VarianceComponents;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.minutes.ProbabilityMap;

/**
 * Quantiles that a model has at given parameters, as an expert would know them: nothing is in doubt but the visit itself, so
 * practitioners, patients, findings and noise vary, the coefficients do not.
 *
 * <p>Parameters are the coefficients by column, followed by the logarithms of the noise by class.
 */
final class ModelQuantiles {

    private final OncePlusPartsModel model;
    private final int width;
    private final int classes;
    private final double[] certain;
    private final ProbabilityMap[] identity;

    ModelQuantiles(OncePlusPartsModel model) {
        this.model = model;
        width = model.posterior().beta().length;
        classes = model.posterior().sizes().noise.length;
        certain = new double[width * width];
        identity = new ProbabilityMap[classes];
        Arrays.fill(identity, ProbabilityMap.IDENTITY);
    }

    /** Where the parameters lie. */
    double[] parameters(Posterior posterior) {
        double[] parameters = Arrays.copyOf(posterior.beta(), width + classes);
        for (int c = 0; c < classes; c++) {
            parameters[width + c] = Math.log(posterior.sizes().noise[c]);
        }
        return parameters;
    }

    /** The time to completion of such a visit at these parameters. */
    MinutesDistribution at(double[] parameters, VisitTerms visit) {
        VarianceComponents sizes = model.posterior().sizes().copy();
        sizes.groupDoubt = 0;
        for (int c = 0; c < classes; c++) {
            sizes.noise[c] = Math.exp(parameters[width + c]);
            sizes.noiseDoubt[c] = 0;
        }
        double[][] none = new double[0][];
        Posterior posterior = new Posterior(
                Arrays.copyOf(parameters, width),
                certain,
                none,
                none,
                none,
                sizes,
                model.posterior().personsTold(),
                model.posterior().widths());
        return new OncePlusPartsModel(
                        model.layout(),
                        model.recorded(),
                        model.tables(),
                        posterior,
                        identity,
                        model.stops(),
                        model.persons(),
                        model.dayVariance(),
                        model.past())
                .predict(visit)
                .completion();
    }

    /** Which parameters the time of such a visit depends on, in their order. */
    int[] touched(VisitTerms visit) {
        Layout layout = model.layout();
        TreeSet<Integer> touched = new TreeSet<>();
        touch(layout, 0, visit.once(), touched);
        for (Part part : visit.parts()) {
            int kind = layout.vocabulary.kinds.find(part.kind());
            if (kind != Names.NONE) {
                touch(layout, kind + 1, part.terms(), touched);
            }
        }
        int first = visit.parts().isEmpty()
                ? Names.NONE
                : layout.vocabulary.kinds.find(visit.parts().get(0).kind());
        touched.add(width + VarianceComponents.noiseClass(first, visit.parts().size()));
        return touched.stream().mapToInt(Integer::intValue).toArray();
    }

    private static void touch(Layout layout, int place, List<Term> terms, TreeSet<Integer> touched) {
        Stream.of(layout.base[place], layout.since[place])
                .filter(column -> column != Layout.NONE)
                .forEach(touched::add);
        Stream.concat(terms.stream().map(Term::factor), Stream.of(Vocabulary.CHANGE))
                .map(layout.vocabulary.factors::find)
                .filter(factor -> factor != Names.NONE)
                .map(factor -> layout.columns[place][factor])
                .filter(Objects::nonNull)
                .flatMapToInt(Arrays::stream)
                .filter(column -> column != Layout.NONE)
                .forEach(touched::add);
    }
}
