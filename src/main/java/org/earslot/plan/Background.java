package org.earslot.plan;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.Executor;
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
    private final Map<String, Job<T>> jobs = new LinkedHashMap<>();

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
    synchronized Job<T> of(String key, T nothing, Consumer<Job<T>> work) {
        Job<T> known = jobs.get(key);
        if (known != null && !known.failed()) {
            return known;
        }
        if (jobs.values().stream().filter(Job::running).count() >= MOST_WAITING) {
            throw new Busy("Other plans are being worked out. Try again in a minute.", Duration.ofMinutes(1));
        }
        jobs.values().removeIf(job -> !job.running() && jobs.size() >= MOST_KEPT);
        Job<T> job = new Job<>(nothing);
        jobs.put(key, job);
        worker.execute(() -> carryOut(job, work));
        return job;
    }

    private static <T extends Object> void carryOut(Job<T> job, Consumer<Job<T>> work) {
        try {
            work.accept(job);
        } catch (RuntimeException e) {
            job.failed = true;
            LOG.error("a plan could not be worked out", LoggedFailure.of(e));
        } finally {
            job.over = true;
        }
    }
}
