package org.earslot.duration;

import org.earslot.duration.table.VisitRow;

/** A way to learn from past visits how long a visit takes. */
public interface Estimator {

    /**
     * Learns from past visits. Gives an answer on any table, the empty one included; the result does not depend on the
     * order of the rows (their days are what orders them) nor on chance.
     *
     * @param rows read once, in their order
     */
    FittedModel fit(Iterable<VisitRow> rows);
}
