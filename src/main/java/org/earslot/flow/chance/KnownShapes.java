package org.earslot.flow.chance;

import java.util.LinkedHashMap;
import java.util.Map;
import org.earslot.minutes.MinutesDistribution;

/**
 * Distributions tabulated already: a search for offers asks for the same few in hundreds of lists, and reading a
 * distribution function at all points costs more than running a list. A {@link TimeShape} changes no more once made, and
 * follows from what it is kept by alone. Which was not asked for longest goes first.
 */
public final class KnownShapes {

    /** Each holds about 5 kB. */
    private static final int MOST = 4_000;

    private record Key(MinutesDistribution prediction, double commonSd) {}

    private static final Map<Key, TimeShape> KNOWN = new LinkedHashMap<>(64, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, TimeShape> eldest) {
            return size() > MOST;
        }
    };

    private KnownShapes() {}

    /** As {@link TimeShape#of}. */
    public static TimeShape of(MinutesDistribution prediction, double commonSd) {
        Key key = new Key(prediction, commonSd);
        synchronized (KNOWN) {
            TimeShape known = KNOWN.get(key);
            if (known != null) {
                return known;
            }
        }
        TimeShape made = TimeShape.of(prediction, commonSd);
        synchronized (KNOWN) {
            KNOWN.put(key, made);
        }
        return made;
    }
}
