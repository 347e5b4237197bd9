package org.earslot.day.web;

import java.io.IOException;
import java.time.LocalDate;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import org.earslot.clinic.ClinicId;
import org.earslot.day.DayWatcher;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.context.SmartLifecycle;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.mvc.method.annotation.SseEmitter;
import org.springframework.web.servlet.mvc.method.annotation.SseEmitter.SseEventBuilder;

/**
 * The open screens of this server. A stream says that a day has changed and not what: the screen asks for its page
 * again, as whoever has signed in there.
 */
@Component
@EnableConfigurationProperties(DayStreamSettings.class)
class DayStreams implements DayWatcher, SmartLifecycle {

    private static final long RETRY_MILLIS = 2000;

    private final DayStreamSettings settings;
    private final Set<Stream> open = ConcurrentHashMap.newKeySet();
    private volatile ScheduledExecutorService sender = sender();
    private volatile boolean running;

    DayStreams(DayStreamSettings settings) {
        this.settings = settings;
    }

    private record Stream(ClinicId clinicId, LocalDate date, String who, SseEmitter wire) {

        boolean isOf(ClinicId clinic, String name) {
            return clinicId.equals(clinic) && who.equals(name);
        }
    }

    /** A stream that tells of changes of the day; empty where too many are open, or the server is going down. */
    Optional<SseEmitter> open(ClinicId clinicId, LocalDate date, String who) {
        SseEmitter wire = new SseEmitter(settings.longest().toMillis());
        Stream stream = new Stream(clinicId, date, who, wire);
        synchronized (open) {
            boolean full = count(known -> known.clinicId().equals(clinicId)) >= settings.perClinic()
                    || count(known -> known.isOf(clinicId, who)) >= settings.perAccount();
            if (full || !running) {
                return Optional.empty();
            }
            open.add(stream);
        }
        wire.onCompletion(() -> open.remove(stream));
        wire.onTimeout(wire::complete);
        wire.onError(broken -> open.remove(stream));
        sender.execute(() -> send(
                stream,
                SseEmitter.event().reconnectTime(RETRY_MILLIS).name("open").data(date.toString())));
        return Optional.of(wire);
    }

    /** How many are open. */
    int count() {
        return open.size();
    }

    @Override
    public void dayChanged(ClinicId clinicId, LocalDate date) {
        tell(stream -> stream.clinicId().equals(clinicId) && stream.date().equals(date));
    }

    @Override
    public void diaryChanged(ClinicId clinicId) {
        tell(stream -> stream.clinicId().equals(clinicId));
    }

    @Override
    public void anyDayMayHaveChanged() {
        tell(stream -> true);
    }

    private static ScheduledExecutorService sender() {
        return Executors.newSingleThreadScheduledExecutor(task -> {
            Thread thread = new Thread(task, "day-streams");
            thread.setDaemon(true);
            return thread;
        });
    }

    @Override
    public void start() {
        if (sender.isShutdown()) {
            sender = sender();
        }
        running = true;
        long beat = settings.heartbeat().toMillis();
        sender.scheduleWithFixedDelay(
                () -> open.forEach(stream -> send(stream, SseEmitter.event().comment("still here"))),
                beat,
                beat,
                TimeUnit.MILLISECONDS);
    }

    /** Before the server waits for its open requests, which these would be without end. */
    @Override
    public void stop() {
        synchronized (open) {
            running = false;
        }
        open.forEach(stream -> stream.wire().complete());
        sender.shutdown();
    }

    @Override
    public boolean isRunning() {
        return running;
    }

    private void tell(Predicate<Stream> which) {
        if (running) {
            sender.execute(() -> open.stream()
                    .filter(which)
                    .forEach(stream -> send(
                            stream,
                            SseEmitter.event()
                                    .name("changed")
                                    .data(stream.date().toString()))));
        }
    }

    private void send(Stream stream, SseEventBuilder event) {
        try {
            stream.wire().send(event);
        } catch (IOException | IllegalStateException e) {
            // The screen is gone.
            open.remove(stream);
        }
    }

    private long count(Predicate<Stream> which) {
        return open.stream().filter(which).count();
    }
}
