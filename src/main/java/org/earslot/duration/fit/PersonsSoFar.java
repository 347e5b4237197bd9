package org.earslot.duration.fit;

import org.earslot.duration.past.PastVisits;
import org.earslot.duration.table.Names;

/**
 * Each person's own log factor as it stood before a given visit: the fit's, brought up to date by the visits since, at
 * the fit's coefficients.
 */
final class PersonsSoFar {

    private final Fit fit;
    private final RowStep step;
    private final int from;
    private final Order order;

    /**
     * @param order of the fit's visits
     * @param from how many visits in time the fit has seen
     */
    PersonsSoFar(Fit fit, Order order, int from) {
        this.fit = fit;
        step = new RowStep(fit, new SweepAccumulator(fit));
        this.order = order;
        this.from = from;
    }

    /**
     * Where each visit stands.
     *
     * @param byPerson all rows by person
     * @param place of each row in {@code byPerson}
     * @param position of each row in time
     */
    record Order(int[] byPerson, int[] place, int[] position) {

        static Order of(PastVisits visits) {
            int[] byPerson = visits.byPerson(visits.count);
            int[] place = new int[visits.count];
            int[] position = new int[visits.count];
            for (int i = 0; i < visits.count; i++) {
                place[byPerson[i]] = i;
                position[visits.order[i]] = i;
            }
            return new Order(byPerson, place, position);
        }
    }

    /** Mean and variance before the visit at a place in time. */
    double[] before(int at) {
        PastVisits visits = fit.visits;
        int row = visits.order[at];
        int who = visits.person[row];
        if (!fit.persons) {
            return new double[] {0, 0};
        }
        if (who == Names.NONE) {
            return new double[] {0, fit.sizes.person * fit.sizes.person};
        }
        double precision = 1 / (fit.sizes.person * fit.sizes.person);
        double pull = 0;
        int[] byPerson = order.byPerson();
        for (int i = order.place()[row] - 1; i >= 0 && visits.person[byPerson[i]] == who; i--) {
            int earlier = byPerson[i];
            if (visits.day[earlier] >= visits.day[row] && order.position()[earlier] >= from) {
                continue;
            }
            // As if nothing were known of the person.
            step.evaluate(earlier, 0);
            pull += step.slope;
            precision += step.precision;
        }
        return new double[] {pull / precision, 1 / precision};
    }
}
