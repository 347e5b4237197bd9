package org.earslot.plan;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.Duration;
import java.util.concurrent.Executor;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import org.earslot.page.Busy;
import org.earslot.page.LoggedFailure;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Work that takes longer than a page may: done once for each key in the background, its result kept for a while.
 *
 * @param <T> what comes of it
 */
final class Background<T extends Object> {

    private static final Logger LOG = LoggerFactory.getLogger(Background.class);
    private static final int MOST_WAITING = 12;
    private static final int MOST_KEPT = 100;

    private final Executor worker;
    private final Cache<String, Job<T>> jobs =
            Caffeine.newBuilder().maximumSize(MOST_KEPT).build();
    private final AtomicInteger underWay = new AtomicInteger();

    Background(Executor worker) {
        this.worker = worker;
    }

    /** One piece of work: how far it is, and what has come of it so far. */
    static final class Job<T extends Object> {

        private volatile T soFar;
        private volatile int done;
        private volatile int total = 1;
        private volatile boolean over;
        private volatile boolean failed;

        private Job(T nothing) {
            soFar = nothing;
        }

        /** Tells how far the work is. */
        void reached(int steps, int of, T result) {
            soFar = result;
            done = steps;
            total = of;
        }

        T soFar() {
            return soFar;
        }

        int done() {
            return done;
        }

        int total() {
            return total;
        }

        boolean running() {
            return !over;
        }

        boolean failed() {
            return failed;
        }
    }

    /** The work of that key, begun now if it is not known. */
    Job<T> of(String key, T nothing, Consumer<Job<T>> work) {
        return jobs.asMap()
                .compute(key, (same, known) -> known == null || known.failed() ? begin(nothing, work) : known);
    }

    private Job<T> begin(T nothing, Consumer<Job<T>> work) {
        if (underWay.get() >= MOST_WAITING) {
            throw new Busy("plan.busy", Duration.ofMinutes(1));
        }
        underWay.incrementAndGet();
        Job<T> job = new Job<>(nothing);
        worker.execute(() -> carryOut(job, work));
        return job;
    }

    private void carryOut(Job<T> job, Consumer<Job<T>> work) {
        try {
            work.accept(job);
        } catch (RuntimeException e) {
            job.failed = true;
            LOG.error("a plan could not be worked out", LoggedFailure.of(e));
        } finally {
            job.over = true;
            underWay.decrementAndGet();
        }
    }
}
