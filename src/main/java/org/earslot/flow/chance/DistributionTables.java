package org.earslot.flow.chance;

import java.util.LinkedHashMap;
import java.util.Map;
import org.earslot.minutes.MinutesDistribution;

/**
 * Distributions tabulated already: a search for offers asks for the same few in hundreds of lists, and reading a
 * distribution function at all points costs more than running a list. A {@link DistributionTable} changes no more once made, and
 * follows from what it is kept by alone. Which was not asked for longest goes first.
 */
public final class DistributionTables {

    /** Each holds about 5 kB. */
    private static final int MOST = 4_000;

    private record Key(MinutesDistribution prediction, double commonSd) {}

    private static final Map<Key, DistributionTable> KNOWN = new LinkedHashMap<>(64, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, DistributionTable> eldest) {
            return size() > MOST;
        }
    };

    private DistributionTables() {}

    /** As {@link DistributionTable#of}. */
    public static DistributionTable of(MinutesDistribution prediction, double commonSd) {
        Key key = new Key(prediction, commonSd);
        synchronized (KNOWN) {
            DistributionTable known = KNOWN.get(key);
            if (known != null) {
                return known;
            }
        }
        DistributionTable made = DistributionTable.of(prediction, commonSd);
        synchronized (KNOWN) {
            KNOWN.put(key, made);
        }
        return made;
    }
}
