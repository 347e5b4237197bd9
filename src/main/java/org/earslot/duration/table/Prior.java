package org.earslot.duration.table;

/**
 * One line of the table of what is assumed before any visit has been seen.
 *
 * @param place what the line is about
 * @param kind the kind of part it holds for, "*" for every kind
 * @param factor the factor, "*" for every factor of that place not listed by name
 * @param level the level, "*" for every level not listed by name
 * @param value the assumed value, in the unit that {@code place} says
 * @param spread how sure that is, in the unit that {@code place} says; above 0
 * @param reason why this value
 */
public record Prior(Place place, String kind, String factor, String level, double value, double spread, String reason) {

    /** What a line is about. */
    public enum Place {
        /** Minutes paid once, and multipliers on them. Value: minutes or a multiplier; spread: sd of its logarithm. */
        ONCE,
        /** Minutes of a part, and multipliers on them. Value: minutes or a multiplier; spread: sd of its logarithm. */
        PART,
        /** Coefficient of a number, per unit on the log scale. Value: the coefficient; spread: its sd. */
        NUMBER,
        /** A variance size on the log scale. Value: the sd itself; spread: sd of its logarithm. */
        SIZE,
        /** How often a level is found. Value: its share; spread: the number of visits that this assumption is worth. */
        SHARE,
        /** How often a reported level is the one found. Value: probability; spread: visits that this is worth. */
        REPORT,
        /** How often the level found last time is found again. Value: probability; spread: visits that this is worth. */
        MEMORY,
        /** Stops for comfort or safety, per minute of work. Value: the hazard; spread: stops that this is worth. */
        STOP
    }

    public Prior {
        Named.finite("prior of " + factor + " " + level, value);
        Named.positive("spread of the prior of " + factor + " " + level, spread);
    }
}
