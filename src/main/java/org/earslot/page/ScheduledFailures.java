package org.earslot.page;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.task.ThreadPoolTaskSchedulerCustomizer;
import org.springframework.scheduling.concurrent.ThreadPoolTaskScheduler;
import org.springframework.stereotype.Component;

/** Logs scheduled work that failed by the same rule as everything else; it runs again when it is next due. */
@Component
class ScheduledFailures implements ThreadPoolTaskSchedulerCustomizer {

    private static final Logger LOG = LoggerFactory.getLogger(ScheduledFailures.class);

    @Override
    public void customize(ThreadPoolTaskScheduler scheduler) {
        scheduler.setErrorHandler(thrown -> LOG.error("Scheduled work failed", LoggedFailure.of(thrown)));
    }
}
