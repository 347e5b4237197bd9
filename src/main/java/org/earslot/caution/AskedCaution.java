package org.earslot.caution;

import java.time.LocalDate;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.page.DateRange;
import org.jspecify.annotations.Nullable;

/**
 * A caution that was answered with yes.
 *
 * @param ear the ear it belongs to; null for the whole patient
 * @param since when it began or was last so; null where not known. Expiring cautions are judged from it
 * @param method the method it belongs to, as a complication does; null for every method
 * @param allClear whether it is known that the drum is intact and the ear, nose and throat service has discharged the
 *     person (of a grommet that is out since then)
 */
public record AskedCaution(
        Caution caution,
        @Nullable Ear ear,

        @DateRange(from = "1895-01-01", to = "P0D") @Nullable
        LocalDate since,

        @Nullable Method method,
        boolean allClear) {

    /** A caution of every method, without an all-clear. */
    public AskedCaution(Caution caution, @Nullable Ear ear, @Nullable LocalDate since) {
        this(caution, ear, since, null, false);
    }

    /** The same of another caution. */
    public AskedCaution of(Caution other) {
        return new AskedCaution(other, ear, since, method, allClear);
    }
}
