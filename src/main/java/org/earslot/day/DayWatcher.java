package org.earslot.day;

import java.time.LocalDate;
import java.util.UUID;

/** Is told of each kept change of a day, on whichever server it was made. Answers at once; told by one thread. */
public interface DayWatcher {

    void dayChanged(UUID clinicId, LocalDate date);

    /** Any day of the clinic may have changed: its set-up has, or an import came in. */
    void diaryChanged(UUID clinicId);

    /** Changes may have been missed: every day is to be looked at again. */
    void anyDayMayHaveChanged();
}
