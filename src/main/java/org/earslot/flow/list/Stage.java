package org.earslot.flow.list;

import java.time.LocalTime;
import org.jspecify.annotations.Nullable;

/** How far a visit has come. What is not known (an arrival not recorded) is null. */
public sealed interface Stage {

    /** Nothing is known yet: to come. */
    record Expected() implements Stage {}

    /** Arrived or checked in; waits to be called in. */
    record Present(LocalTime arrived) implements Stage {}

    /** Called in, not finished. */
    record InRoom(@Nullable LocalTime arrived, LocalTime calledIn) implements Stage {}

    /** The patient left the room; {@code roomReady} is null while the turnaround goes on. */
    record Finished(
            @Nullable LocalTime arrived,
            LocalTime calledIn,
            LocalTime finished,
            @Nullable LocalTime roomReady) implements Stage {
        public Finished {
            if (finished.isBefore(calledIn) || (roomReady != null && roomReady.isBefore(finished))) {
                throw new IllegalArgumentException("a visit was called in at " + calledIn + ", finished at " + finished
                        + ", room ready at " + roomReady + "; give times that follow each other");
            }
        }
    }

    /** Did not attend, or will not: takes no time. */
    record Away() implements Stage {}

    Stage EXPECTED = new Expected();
    Stage AWAY = new Away();
}
