package org.earslot.clinic.policy;

/**
 * What a minute weighs when the starts of a list are set, in any one unit. Only their proportions count.
 *
 * @param waitMinute a patient's wait, 0 to 100
 * @param idleMinute the practitioner's idle time, 0 to 100
 * @param overtimeMinute past the session's end, 0 to 100
 */
public record ListCosts(double waitMinute, double idleMinute, double overtimeMinute) {

    /** The heaviest a minute may weigh. */
    public static final double MOST = 100;

    /** The project's own assumption, to be set by the lead. */
    public static final ListCosts STARTING = new ListCosts(1, 1, 1.5);

    public ListCosts {
        for (double cost : new double[] {waitMinute, idleMinute, overtimeMinute}) {
            if (!(cost >= 0 && cost <= MOST)) {
                throw new IllegalArgumentException("a minute weighs " + cost + "; give 0 to " + MOST);
            }
        }
        if (!(waitMinute + idleMinute + overtimeMinute > 0)) {
            throw new IllegalArgumentException("no minute weighs anything; give at least one weight above 0");
        }
    }
}
