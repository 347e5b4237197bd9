package org.earslot.page;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.task.ThreadPoolTaskSchedulerCustomizer;
import org.springframework.scheduling.concurrent.ThreadPoolTaskScheduler;
import org.springframework.stereotype.Component;

/** Logs what scheduled work throws as other failures are logged; the work runs again at its next time. */
@Component
class ScheduledFailures implements ThreadPoolTaskSchedulerCustomizer {

    private static final Logger LOG = LoggerFactory.getLogger(ScheduledFailures.class);

    @Override
    public void customize(ThreadPoolTaskScheduler scheduler) {
        scheduler.setErrorHandler(thrown -> {
            OutOfMemory.endIfCauseOf(thrown);
            LOG.error("Scheduled work failed and is tried again at its next time", LoggedFailure.of(thrown));
        });
    }
}
