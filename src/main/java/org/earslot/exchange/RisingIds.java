package org.earslot.exchange;

import java.security.SecureRandom;
import java.time.Instant;
import java.util.Iterator;
import java.util.UUID;

/**
 * Ids that rise one after the other (RFC 9562, version 7), so that many rows at once are added at one end of the index
 * instead of all over it.
 */
final class RisingIds implements Iterator<UUID> {

    private static final int COUNTER_BITS = 12;
    private static final long COUNTER = (1L << COUNTER_BITS) - 1;
    private static final long VERSION_7 = 0x7000L;
    private static final long VARIANT = 0x8000_0000_0000_0000L;
    private static final long BELOW_VARIANT = 0x3FFF_FFFF_FFFF_FFFFL;

    private final SecureRandom random = new SecureRandom();
    private long tick;

    /** Starts at {@code from}; more than 4096 ids in a millisecond run ahead of it. */
    RisingIds(Instant from) {
        tick = from.toEpochMilli() << COUNTER_BITS;
    }

    @Override
    public boolean hasNext() {
        return true;
    }

    @Override
    public UUID next() {
        long high = tick >>> COUNTER_BITS << 16 | VERSION_7 | tick & COUNTER;
        tick++;
        return new UUID(high, VARIANT | random.nextLong() & BELOW_VARIANT);
    }
}
