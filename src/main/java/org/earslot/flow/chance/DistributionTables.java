package org.earslot.flow.chance;

import java.util.function.Function;
import org.earslot.minutes.MinutesDistribution;

/**
 * Distributions already tabulated: a search for offers asks for the same few in hundreds of lists, and reading a
 * distribution function at all points costs more than running a list. This room has no cache of its own; the program
 * hands one in with {@link #cacheWith}, and without one each table is made when it is asked for. A
 * {@link DistributionTable} is immutable and follows from its key alone, so a cache changes no result and no entry has to
 * be invalidated.
 */
public final class DistributionTables {

    /**
     * What a table follows from.
     *
     * @param prediction minutes
     * @param commonSd of the factor that the visits of a day share, on the log scale; 0 where they share none
     */
    public record Key(MinutesDistribution prediction, double commonSd) {}

    /** Gives the table of a key, made by the function at most as often as it is not in the cache. Thread-safe. */
    @FunctionalInterface
    public interface TableCache {
        DistributionTable get(Key key, Function<? super Key, ? extends DistributionTable> make);
    }

    private static volatile TableCache cache = (key, make) -> make.apply(key);

    private DistributionTables() {}

    /** Takes tables from this cache from now on; each holds about 5 kB. */
    public static void cacheWith(TableCache given) {
        cache = given;
    }

    /** As {@link DistributionTable#of}. */
    public static DistributionTable of(MinutesDistribution prediction, double commonSd) {
        return cache.get(new Key(prediction, commonSd), key -> DistributionTable.of(key.prediction(), key.commonSd()));
    }
}
