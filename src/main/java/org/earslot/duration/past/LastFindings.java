package org.earslot.duration.past;

/**
 * How often each level of one factor was found in a person's earlier visits: in the same part, and in other parts. Packed
 * into one long, four bits a level, so that it may stand beside every term of a million visits; a count stops at 15.
 */
public final class LastFindings {

    /** Nothing found before. */
    public static final long NONE = 0;

    /** Factors with more levels than this are not remembered. */
    static final int MOST_LEVELS = 8;

    private static final int BITS = 4;
    private static final int MOST = (1 << BITS) - 1;
    private static final int OTHER = MOST_LEVELS * BITS;

    private LastFindings() {}

    /**
     * Once more found in the same part.
     *
     * @param level below {@link #MOST_LEVELS}, else nothing is kept
     */
    public static long same(long before, int level) {
        return more(before, level, level * BITS, 1);
    }

    /** Found so many times in another part. */
    private static long elsewhere(long before, int level, int times) {
        return more(before, level, OTHER + level * BITS, times);
    }

    /** All that was found in another part, too. */
    public static long withOther(long before, long other) {
        long all = before;
        for (int level = 0; level < MOST_LEVELS; level++) {
            all = elsewhere(all, level, inSame(other, level));
        }
        return all;
    }

    /** All that was found in the same part, by two counts. */
    public static long sum(long one, long other) {
        long all = one;
        for (int level = 0; level < MOST_LEVELS; level++) {
            all = more(all, level, level * BITS, inSame(other, level));
        }
        return all;
    }

    private static long more(long before, int level, int at, int times) {
        if (level >= MOST_LEVELS || times == 0) {
            return before;
        }
        long count = Math.min(MOST, (before >>> at & MOST) + times);
        return before & ~((long) MOST << at) | count << at;
    }

    /** How often found in the same part. */
    public static int inSame(long packed, int level) {
        return level < MOST_LEVELS ? (int) (packed >>> level * BITS & MOST) : 0;
    }

    /** How often found in other parts. */
    public static int inOther(long packed, int level) {
        return level < MOST_LEVELS ? (int) (packed >>> OTHER + level * BITS & MOST) : 0;
    }
}
