package org.earslot.review;

/** What came of closing a month. */
public enum Closing {
    CLOSED,
    /** It was closed before; its figures stay those of then. */
    CLOSED_BEFORE,
    /** The month is not over. */
    STILL_RUNNING,
    /** There is nothing to report. */
    EMPTY
}
