package org.earslot.duration.judge;

import org.earslot.minutes.MinutesDistribution;

/**
 * A forecast beside what happened.
 *
 * @param forecast the distribution of the time to completion, made before the visit
 * @param minutes what was observed, in minutes, finite, above 0
 * @param stoppedEarly whether the visit was stopped then, so that its completion would have taken longer
 */
public record Judged(MinutesDistribution forecast, double minutes, boolean stoppedEarly) {

    public Judged {
        if (!(minutes > 0 && minutes < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("minutes is " + minutes + "; give a finite number above 0");
        }
    }
}
