package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import org.earslot.flow.chance.DistributionTable;
import org.earslot.flow.chance.DistributionTables;
import org.earslot.flow.chance.DistributionTables.Key;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

class DistributionTableCacheTest {

    private final DistributionTableCache cache = new DistributionTableCache();
    private int made;

    @Test
    void is_the_one_that_running_lists_use() {
        DistributionTable table = DistributionTables.of(LogNormalMinutes.ofMoments(20, 7), 0.15);
        assertThat(DistributionTables.of(LogNormalMinutes.ofMoments(20, 7), 0.15))
                .isSameAs(table);
        assertThat(DistributionTables.of(LogNormalMinutes.ofMoments(20, 7), 0)).isNotSameAs(table);
    }

    @Test
    void makes_a_table_once_and_holds_no_more_than_its_size() {
        for (int i = 0; i < 10; i++) {
            ask(0);
        }
        assertThat(made).isOne();
        int asked = DistributionTableCache.MAXIMUM_SIZE + 500;
        for (int i = 0; i < asked; i++) {
            ask(i);
        }
        made = 0;
        for (int i = 0; i < asked; i++) {
            ask(i);
        }
        assertThat(made).isGreaterThanOrEqualTo(500).isLessThan(asked);
    }

    private void ask(int number) {
        DistributionTable any = DistributionTables.of(LogNormalMinutes.ofMoments(20, 7), 0);
        cache.get(new Key(LogNormalMinutes.ofMoments(20 + number, 7), 0.1), key -> {
            made++;
            return any;
        });
    }
}
