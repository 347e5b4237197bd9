package org.earslot.duration;

import java.time.LocalDate;

/**
 * How practice was found to have changed over the past, and is followed: the latest visits count for the level that all
 * times have in common, all of them for everything else.
 *
 * @param changeDay number of the day on which it changed sharply, {@code Long.MAX_VALUE} where it did not
 * @param yearly standard deviation on the log scale of what all times alike drift in a year; 0 where they do not
 * @param gain of log-likelihood of forecasts that follow the drift; 0 where there is none
 */
public record FollowedDrift(long changeDay, double yearly, double gain) {

    /** All of the past counts alike. */
    public static final FollowedDrift NONE = new FollowedDrift(Long.MAX_VALUE, 0, 0);

    /** Whether there was a sharp change. */
    public boolean changed() {
        return changeDay != Long.MAX_VALUE;
    }

    /** Whether times drift slowly. */
    public boolean slow() {
        return yearly > 0;
    }

    /** Its day, where days are numbered as dates are. */
    public LocalDate changedOn() {
        return LocalDate.ofEpochDay(changeDay);
    }

    /** The drift of an ordinary year, in per cent. */
    public double percent() {
        return 100 * Math.expm1(yearly);
    }
}
