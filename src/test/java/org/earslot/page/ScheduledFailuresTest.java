package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Instant;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.scheduling.concurrent.ThreadPoolTaskScheduler;

@ExtendWith(OutputCaptureExtension.class)
class ScheduledFailuresTest {

    @Test
    void are_logged_without_the_messages_of_libraries(CapturedOutput log) {
        ThreadPoolTaskScheduler scheduler = new ThreadPoolTaskScheduler();
        new ScheduledFailures().customize(scheduler);
        scheduler.initialize();
        try {
            scheduler.schedule(ScheduledFailuresTest::fail, Instant.now());
            await().until(() -> log.getAll().contains("Scheduled work failed"));
        } finally {
            scheduler.shutdown();
        }
        assertThat(log.getAll()).contains("IllegalArgumentException").doesNotContain("Invented Patient");
    }

    private static void fail() {
        UUID.fromString("Invented Patient");
    }
}
