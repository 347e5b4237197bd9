package org.earslot.unchanged;

import java.nio.ByteBuffer;
import java.security.Provider;
import java.security.SecureRandomSpi;
import java.security.Security;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Makes every {@code SecureRandom} of this machine give the same bytes at each start, and with it every id. Ids rise in
 * the order in which they are drawn, since where two things are as good as each other, the lower id decides: so an id
 * drawn more or less elsewhere changes nothing. Each thread has a sequence of its own. Only for a Java machine of its
 * own, before anything has asked for an id.
 */
public final class SeededRandomness extends Provider {

    private static final long serialVersionUID = 1;
    private static final long SEED = Long.getLong("unchanged.seed", 20_261_130);
    private static final int ID_BYTES = 16;
    private static final int RANGE = 1 << 20;
    private static final AtomicInteger BEGUN = new AtomicInteger();
    private static final AtomicInteger IDS = new AtomicInteger();
    private static final ThreadLocal<Random> BYTES = ThreadLocal.withInitial(
            () -> new Random(SEED ^ Thread.currentThread().getName().hashCode()));

    private SeededRandomness() {
        super("Seeded", "1", "the same bytes at each start");
        put("SecureRandom.Seeded", Bytes.class.getName());
    }

    static void install() {
        Security.insertProviderAt(new SeededRandomness(), 1);
    }

    /** Begins the sequence of this thread that belongs to the name, and a new range of ids, whatever was drawn before. */
    static void begin(String name) {
        IDS.set(BEGUN.incrementAndGet() * RANGE);
        BYTES.set(new Random(SEED ^ ((long) name.hashCode() << 32)));
    }

    /** Made by the machine, by name. */
    public static final class Bytes extends SecureRandomSpi {

        private static final long serialVersionUID = 1;

        @Override
        protected void engineSetSeed(byte[] seed) {
            // The seed is fixed.
        }

        @Override
        protected void engineNextBytes(byte[] bytes) {
            BYTES.get().nextBytes(bytes);
            if (bytes.length == ID_BYTES) {
                ByteBuffer.wrap(bytes).putInt(IDS.incrementAndGet());
            }
        }

        @Override
        protected byte[] engineGenerateSeed(int length) {
            byte[] seed = new byte[length];
            engineNextBytes(seed);
            return seed;
        }
    }
}
