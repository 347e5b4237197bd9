package org.earslot.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayDeque;
import java.util.Queue;
import java.util.concurrent.atomic.AtomicInteger;
import org.earslot.page.Busy;
import org.earslot.plan.Background.Job;
import org.junit.jupiter.api.Test;

class BackgroundTest {

    private final Queue<Runnable> waiting = new ArrayDeque<>();
    private final Background<String> background = new Background<>(waiting::add);
    private final AtomicInteger begun = new AtomicInteger();

    private Job<String> ask(String key) {
        return background.of(key, "nothing", job -> {
            begun.incrementAndGet();
            job.reached(1, 2, "half");
            job.reached(2, 2, "all of " + key);
        });
    }

    @Test
    void does_the_work_of_a_key_once() {
        Job<String> first = ask("a");
        assertThat(first.running()).isTrue();
        assertThat(first.soFar()).isEqualTo("nothing");
        assertThat(ask("a")).isSameAs(first);
        waiting.remove().run();
        assertThat(first.running()).isFalse();
        assertThat(first.soFar()).isEqualTo("all of a");
        assertThat(ask("a")).isSameAs(first);
        assertThat(waiting).isEmpty();
        assertThat(begun).hasValue(1);
    }

    @Test
    void begins_again_what_failed() {
        Job<String> failed = background.of("a", "nothing", job -> {
            throw new IllegalStateException("no visits");
        });
        waiting.remove().run();
        assertThat(failed.failed()).isTrue();
        assertThat(failed.running()).isFalse();
        assertThat(ask("a")).isNotSameAs(failed);
        waiting.remove().run();
        assertThat(ask("a").soFar()).isEqualTo("all of a");
    }

    @Test
    void takes_no_more_than_twelve_at_once() {
        for (int i = 0; i < 12; i++) {
            ask("key " + i);
        }
        assertThat(ask("key 3").running()).isTrue();
        assertThatThrownBy(() -> ask("one more")).isInstanceOf(Busy.class);
        waiting.remove().run();
        assertThat(ask("one more").running()).isTrue();
    }
}
