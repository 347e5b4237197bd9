package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import org.earslot.clinic.ClinicId;
import org.junit.jupiter.api.Test;

class InForceCacheTest {

    private static final ClinicId CLINIC = new ClinicId(new UUID(0, 1));

    private final InForceCache<String> cache = new InForceCache<>(10);
    private final AtomicInteger made = new AtomicInteger();

    @Test
    void makes_a_value_once_for_each_version_in_force() {
        assertThat(get(CLINIC, "one")).isEqualTo("one 1");
        assertThat(get(CLINIC, "one")).isEqualTo("one 1");
        assertThat(get(CLINIC, "two")).isEqualTo("two 2");
        assertThat(get(new ClinicId(new UUID(0, 2)), "two")).isEqualTo("two 3");
        assertThat(get(CLINIC, "one")).isEqualTo("one 4");
    }

    @Test
    void takes_what_was_made_elsewhere() {
        cache.put(CLINIC, "one", "fitted here");
        assertThat(get(CLINIC, "one")).isEqualTo("fitted here");
        assertThat(made).hasValue(0);
    }

    @Test
    void who_asks_while_it_is_made_waits_for_it() throws InterruptedException {
        List<String> got = Collections.synchronizedList(new ArrayList<>());
        Thread other = new Thread(() -> got.add(get(CLINIC, "one")));
        got.add(cache.get(CLINIC, "one", () -> {
            other.start();
            await().until(() -> other.getState() == Thread.State.BLOCKED);
            return "one " + made.incrementAndGet();
        }));
        other.join();
        assertThat(got).containsOnly("one 1").hasSize(2);
        assertThat(made).hasValue(1);
    }

    @Test
    void stores_nothing_where_making_fails() {
        assertThatThrownBy(() -> cache.get(CLINIC, "one", () -> {
                    throw new IllegalStateException("damaged");
                }))
                .hasMessage("damaged");
        assertThat(get(CLINIC, "one")).isEqualTo("one 1");
    }

    @Test
    void holds_no_more_clinics_than_its_size() {
        for (int i = 0; i < 30; i++) {
            get(new ClinicId(new UUID(1, i)), "one");
        }
        made.set(0);
        for (int i = 0; i < 30; i++) {
            get(new ClinicId(new UUID(1, i)), "one");
        }
        assertThat(made.get()).isBetween(20, 30);
    }

    private String get(ClinicId clinic, String version) {
        return cache.get(clinic, version, () -> version + " " + made.incrementAndGet());
    }
}
