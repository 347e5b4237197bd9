package org.earslot;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.util.function.Function;
import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.chance.DistributionTables.Key;
import org.springframework.stereotype.Component;

/** The cache of tabulated distributions that the room of running lists is given: that room is compiled without one. */
@Component
class DistributionTableCache implements DistributionTables.TableCache {

    /** About 5 kB each. */
    static final int MAXIMUM_SIZE = 4_000;

    private final Cache<Key, DistributionTable> cache = Caffeine.newBuilder()
            .initialCapacity(MAXIMUM_SIZE)
            .maximumSize(MAXIMUM_SIZE)
            .executor(Runnable::run)
            .build();

    DistributionTableCache() {
        DistributionTables.cacheWith(this);
    }

    @Override
    public DistributionTable get(Key key, Function<? super Key, ? extends DistributionTable> make) {
        return cache.get(key, make);
    }
}
