package org.earslot.kit;

import java.time.LocalTime;
import java.util.ArrayDeque;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Whether a day's visits find a clean set each, minute by minute. The day begins with every set clean and a test cycle;
 * whenever the machine is idle and a set is dirty, all dirty ones go in together. A visit that finds no clean set is
 * short: it takes the next that comes clean, before later visits, and keeps it for as long as it was to last.
 */
final class SetsNeeded {

    private static final int DAY = 24 * 60;

    private final List<Visit> visits;
    private final int cycle;
    private final int testOver;
    private final Map<Integer, Integer> soiledAt = new HashMap<>();
    private final Deque<Visit> waiting = new ArrayDeque<>();
    private int clean;
    private int dirty;
    private int inCycle;
    private int cycleEnds = -1;
    private int without;
    private @Nullable Integer first;
    private @Nullable Integer cleanAgain;

    private SetsNeeded(Sets sets, int cycle, int testOver, List<Visit> visits) {
        this.clean = sets.clean();
        this.dirty = sets.dirty();
        this.inCycle = sets.inCycle();
        this.cycleEnds = sets.inCycle() == 0 ? -1 : Math.max(sets.from(), sets.cycleEnds());
        sets.inUseUntil().forEach(end -> soiledAt.merge(Math.max(sets.from(), end), 1, Integer::sum));
        this.cycle = cycle;
        this.testOver = testOver;
        this.visits =
                visits.stream().sorted(Comparator.comparingInt(Visit::from)).toList();
    }

    /** A visit that takes a set, in minutes of the day: from its start to its end. */
    record Visit(int from, int to) {}

    /**
     * Where the sets of a kind are at one minute of the day.
     *
     * @param from that minute
     * @param cycleEnds when the cycle is over; ignored if no set is in it
     * @param inUseUntil for each set in use, when it will be dirty
     */
    record Sets(int from, int clean, int dirty, int inCycle, int cycleEnds, List<Integer> inUseUntil) {

        Sets {
            inUseUntil = List.copyOf(inUseUntil);
        }

        /** All clean, when the day begins. */
        static Sets clean(int count) {
            return new Sets(0, count, 0, 0, 0, List.of());
        }
    }

    /**
     * What the day comes to.
     *
     * @param without how many visits start without a clean set
     * @param first when the first of them does; null if none does
     * @param cleanAgain when it gets one; null if none comes clean that day
     */
    record Need(
            int without,
            @Nullable LocalTime first,
            @Nullable LocalTime cleanAgain) {}

    /**
     * @param sets how many there are, at least 0
     * @param cycle minutes of a cycle, above 0
     * @param testOver when the test cycle is over, minute of the day
     * @param visits in any order
     */
    static Need of(int sets, int cycle, int testOver, List<Visit> visits) {
        return of(Sets.clean(sets), cycle, testOver, visits);
    }

    /**
     * @param sets where they are; what comes before is over
     * @param cycle minutes of a cycle, above 0
     * @param testOver when the test cycle is over, minute of the day
     * @param visits in any order, none before {@code sets.from()}
     */
    static Need of(Sets sets, int cycle, int testOver, List<Visit> visits) {
        SetsNeeded day = new SetsNeeded(sets, cycle, testOver, visits);
        for (int minute = sets.from(); minute < DAY; minute++) {
            day.pass(minute);
        }
        return new Need(day.without, time(day.first), time(day.cleanAgain));
    }

    private void pass(int minute) {
        dirty += soiledAt.getOrDefault(minute, 0);
        if (minute == cycleEnds) {
            clean += inCycle;
            inCycle = 0;
        }
        if (minute >= testOver && inCycle == 0 && dirty > 0) {
            inCycle = dirty;
            dirty = 0;
            cycleEnds = minute + cycle;
        }
        while (clean > 0 && !waiting.isEmpty()) {
            take(waiting.removeFirst(), minute);
            cleanAgain = cleanAgain == null ? minute : cleanAgain;
        }
        visits.stream().filter(visit -> visit.from() == minute).forEach(visit -> start(visit, minute));
    }

    private void start(Visit visit, int minute) {
        if (clean > 0) {
            take(visit, minute);
        } else {
            without++;
            first = first == null ? minute : first;
            waiting.add(visit);
        }
    }

    private void take(Visit visit, int minute) {
        clean--;
        soiledAt.merge(minute + Math.max(1, visit.to() - visit.from()), 1, Integer::sum);
    }

    private static @Nullable LocalTime time(@Nullable Integer minute) {
        return minute == null ? null : LocalTime.of(minute / 60, minute % 60);
    }
}
