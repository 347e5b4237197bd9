package org.earslot.daysheet;

import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.stereotype.Component;

/** One thread for plans, so that they never take the server from those who book. */
@Component
class PlanWorker implements Executor, DisposableBean {

    private final ExecutorService thread = Executors.newSingleThreadExecutor(work -> {
        Thread named = new Thread(work, "plans");
        named.setDaemon(true);
        named.setPriority(Thread.MIN_PRIORITY);
        return named;
    });

    @Override
    public void execute(Runnable work) {
        thread.execute(work);
    }

    @Override
    public void destroy() {
        thread.shutdownNow();
    }
}
