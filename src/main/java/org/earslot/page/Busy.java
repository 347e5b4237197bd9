package org.earslot.page;

import java.time.Duration;

/** More is asked at once than can be done now: answered with 503 and when to ask again. */
public class Busy extends RuntimeException {

    private final String messageKey;
    private final transient Duration retryAfter;

    public Busy(String messageKey, Duration retryAfter) {
        super(messageKey);
        this.messageKey = messageKey;
        this.retryAfter = retryAfter;
    }

    /** The key of one sentence for people. */
    public String messageKey() {
        return messageKey;
    }

    public Duration retryAfter() {
        return retryAfter;
    }
}
