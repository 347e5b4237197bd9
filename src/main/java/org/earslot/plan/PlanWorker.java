package org.earslot.plan;

import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.stereotype.Component;

/** Two threads for plans, so that they never take the server from those who book: one for long work, one for short. */
@Component
class PlanWorker implements DisposableBean {

    private final ExecutorService longWork = thread("trade-offs");
    private final ExecutorService shortWork = thread("session-plans");

    private static ExecutorService thread(String name) {
        return Executors.newSingleThreadExecutor(work -> {
            Thread named = new Thread(work, name);
            named.setDaemon(true);
            named.setPriority(Thread.MIN_PRIORITY);
            return named;
        });
    }

    /** For what takes minutes. */
    Executor longWork() {
        return longWork;
    }

    /** For what somebody waits for. */
    Executor shortWork() {
        return shortWork;
    }

    @Override
    public void destroy() {
        longWork.shutdownNow();
        shortWork.shutdownNow();
    }
}
