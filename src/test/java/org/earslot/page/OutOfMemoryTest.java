package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import org.earslot.testing.Forked;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.scheduling.concurrent.ThreadPoolTaskScheduler;

/** A process whose memory has run out ends, so that whatever watches it starts it again. */
@Timeout(120)
class OutOfMemoryTest {

    @ParameterizedTest
    @ValueSource(strings = {"uncaught", "wrapped", "scheduled"})
    void memory_that_runs_out_in_any_thread_ends_the_process(String how) throws Exception {
        try (Forked forked = Forked.start(List.of("-Xmx24m"), Hungry.class, how)) {
            assertThat(forked.exitStatus()).isEqualTo(OutOfMemory.STATUS);
        }
    }

    @Test
    void another_failure_does_not() throws Exception {
        try (Forked forked = Forked.start(List.of("-Xmx24m"), Hungry.class, "other")) {
            forked.await("still here");
            assertThat(forked.isAlive()).isTrue();
        }
    }

    /** Fills the memory in one thread while another goes on, as a server's would. */
    static final class Hungry {

        public static void main(String[] arguments) throws InterruptedException {
            OutOfMemory.endsTheProcess();
            Thread other = new Thread(() -> {
                if (arguments[0].equals("other")) {
                    throw new IllegalStateException("another failure");
                }
                if (arguments[0].equals("uncaught")) {
                    fill();
                }
                if (arguments[0].equals("scheduled")) {
                    schedule();
                }
                try {
                    fill();
                } catch (OutOfMemoryError e) {
                    OutOfMemory.endIfCauseOf(new IllegalStateException(new IllegalArgumentException(e)));
                }
            });
            other.start();
            other.join();
            System.out.println("still here");
            new CountDownLatch(1).await();
        }

        /** As the program schedules its work, which catches whatever is thrown. */
        private static void schedule() {
            ThreadPoolTaskScheduler scheduler = new ThreadPoolTaskScheduler();
            new ScheduledFailures().customize(scheduler);
            scheduler.initialize();
            scheduler.scheduleWithFixedDelay(Hungry::fill, Duration.ofMillis(1));
        }

        private static void fill() {
            List<byte[]> all = new ArrayList<>();
            while (true) {
                all.add(new byte[1024 * 1024]);
            }
        }
    }
}
