package org.earslot.duration;

/**
 * Each person's own log factor as it stood before a given visit: the fit's, brought up to date by the visits since, at
 * the fit's coefficients.
 */
final class PersonsSoFar {

    private final Fit fit;
    private final Pass pass;
    private final int from;
    private final int[] place;
    private final int[] byPerson;
    private final int[] position;

    /** @param from how many visits in time the fit has seen */
    PersonsSoFar(Fit fit, Pass pass, int from) {
        this.fit = fit;
        this.pass = pass;
        this.from = from;
        byPerson = fit.visits.byPerson(fit.visits.count);
        place = new int[fit.visits.count];
        position = new int[fit.visits.count];
        for (int i = 0; i < byPerson.length; i++) {
            place[byPerson[i]] = i;
        }
        for (int i = 0; i < fit.visits.count; i++) {
            position[fit.visits.order[i]] = i;
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
        for (int i = place[row] - 1; i >= 0 && visits.person[byPerson[i]] == who; i--) {
            int earlier = byPerson[i];
            if (visits.day[earlier] >= visits.day[row] && position[earlier] >= from) {
                continue;
            }
            pass.residual(earlier);
            pull += pass.rowSlope();
            precision += pass.rowPrecision();
        }
        return new double[] {pull / precision, 1 / precision};
    }
}
