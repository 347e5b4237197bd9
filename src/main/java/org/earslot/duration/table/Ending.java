package org.earslot.duration.table;

/** How a visit came to its end. All but {@link #COMPLETED} say only that completion would have taken longer. */
public enum Ending {
    /** The work was done: the minutes are the time to completion. */
    COMPLETED,
    /** Stopped for comfort or safety: a property of the patient and the kind of work, learnt as a hazard. */
    STOPPED_FOR_COMFORT,
    /** Stopped because the list ran out of time: a property of the day, never predicted. */
    STOPPED_FOR_TIME;

    /** Whether the work was left unfinished. */
    public boolean stoppedEarly() {
        return this != COMPLETED;
    }
}
