package org.earslot.day;

import java.time.LocalDate;
import org.earslot.clinic.ClinicId;

/** Is told of each kept change of a day, on whichever server it was made. Answers at once; told by one thread. */
public interface DayWatcher {

    void dayChanged(ClinicId clinicId, LocalDate date);

    /** Any day of the clinic may have changed: its set-up has, or an import came in. */
    void diaryChanged(ClinicId clinicId);

    /** Changes may have been missed: every day is to be looked at again. */
    void anyDayMayHaveChanged();
}
