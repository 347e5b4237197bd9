package org.earslot.lived;

import java.time.LocalDateTime;
import java.util.Comparator;
import java.util.PriorityQueue;

/** What will happen on a day, in the order of its times; what happens may add more. */
final class Events {

    private record Event(LocalDateTime at, int sequence, Runnable what) {}

    private final PriorityQueue<Event> queue =
            new PriorityQueue<>(Comparator.comparing(Event::at).thenComparing(Event::sequence));
    private int added;

    void at(LocalDateTime time, Runnable what) {
        queue.add(new Event(time, added++, what));
    }

    /** Lets everything happen, the clock moving on; after each, {@code check} looks at the screens. */
    int live(Clinic clinic, Runnable check) {
        int steps = 0;
        while (!queue.isEmpty()) {
            Event next = queue.remove();
            clinic.clockReaches(next.at());
            next.what().run();
            check.run();
            steps++;
        }
        return steps;
    }
}
