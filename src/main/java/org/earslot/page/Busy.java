package org.earslot.page;

import java.time.Duration;

/** More is asked at once than can be done now: answered with 503 and when to ask again. */
public class Busy extends RuntimeException {

    private final transient Duration retryAfter;

    public Busy(String message, Duration retryAfter) {
        super(message);
        this.retryAfter = retryAfter;
    }

    public Duration retryAfter() {
        return retryAfter;
    }
}
