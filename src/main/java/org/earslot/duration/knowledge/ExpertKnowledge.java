package org.earslot.duration.knowledge;

import java.util.List;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.predict.OncePlusPartsModel;

/**
 * What an expert says of several kinds of visit, combined with what the visits say.
 *
 * <p>What is said counts as data on the quantiles of the model, beside the visits: see {@link KnowledgeUpdate} for the
 * likelihood. Since both are combined by Bayes' rule, and how far the expert is from what is found is learnt, the visits
 * outweigh what was said as they come in. Deterministic. With nothing said every fit is left as it is.
 *
 * @param said at most one for each kind of visit
 */
public record ExpertKnowledge(List<ElicitedMinutes> said) {

    /** Nothing said. */
    public static final ExpertKnowledge NONE = new ExpertKnowledge(List.of());

    public ExpertKnowledge {
        said = List.copyOf(said);
    }

    /** {@code estimator}, its fits of {@link OncePlusPartsModel} combined with what was said. */
    public Estimator informing(Estimator estimator) {
        return said.isEmpty() ? estimator : rows -> informed(estimator.fit(rows));
    }

    /**
     * After about how many visits, of all kinds that something was said of, the visits say more than what was said; 0 with
     * nothing said.
     *
     * @param fitted as {@link #informing} makes it
     */
    public long outweighedAfter(FittedModel fitted) {
        return said.isEmpty() ? 0 : Math.round(KnowledgeUpdate.outweighedAfter(model(fitted), said));
    }

    private FittedModel informed(FittedModel fitted) {
        return new KnowledgeUpdate(model(fitted), said).updated();
    }

    private static OncePlusPartsModel model(FittedModel fitted) {
        if (!(fitted instanceof OncePlusPartsModel model)) {
            throw new IllegalArgumentException("a model of another estimator cannot be combined with what was said");
        }
        return model;
    }
}
