package org.earslot.caution;

import java.time.LocalDate;
import java.time.Period;
import java.util.Optional;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;

/**
 * One rule of the table of cautions; a cell holds one, or two where the verdict eases with time.
 *
 * @param within how long after it was last so the caution counts; empty for always
 * @param needsAllClear whether that time ends it only with an all-clear: drum intact, discharged
 * @param source where the verdict comes from
 * @param mark how far the source may be relied on: published, read across, common practice, from memory, or changed here
 * @param signOff who signed it off here; empty where nobody has yet, however well it is published
 */
public record CautionRule(
        Caution caution,
        Method method,
        Verdict verdict,
        Optional<Period> within,
        boolean needsAllClear,
        String source,
        Mark mark,
        Optional<SignOff> signOff) {

    /** A rule that nobody has signed off here. */
    public CautionRule(
            Caution caution,
            Method method,
            Verdict verdict,
            Optional<Period> within,
            boolean needsAllClear,
            String source,
            Mark mark) {
        this(caution, method, verdict, within, needsAllClear, source, mark, Optional.empty());
    }

    /** A cell without any rule, to be signed off as such. */
    static CautionRule none(Caution caution, Method method) {
        return new CautionRule(
                caution, method, Verdict.SUITABLE, Optional.empty(), false, "none found", Mark.COMMON_PRACTICE);
    }

    /** Whether a practitioner of this clinic has signed it off. */
    public boolean signedOff() {
        return signOff.isPresent();
    }

    /** The same, signed off so. */
    CautionRule signed(Optional<SignOff> by) {
        return new CautionRule(caution, method, verdict, within, needsAllClear, source, mark, by);
    }

    /** Whether both say the same, whoever signed them. */
    public boolean saysTheSameAs(CautionRule other) {
        return verdict == other.verdict
                && within.equals(other.within)
                && needsAllClear == other.needsAllClear
                && source.equals(other.source);
    }

    /**
     * Whether the rule counts on {@code date}. "Within" holds on its last day ("in the last 6 weeks" on the day itself),
     * and where the day it was last so is not known. With {@link #needsAllClear} the time must have passed ("at least 18
     * months" is fulfilled on the day itself) and the all-clear be known, else the rule counts. A month's end that the
     * target month does not have is its last day: a year after 29 February is 28 February.
     */
    boolean countsOn(LocalDate date, AskedCaution asked) {
        if (asked.method() != null && asked.method() != method) {
            return false;
        }
        if (within.isEmpty()) {
            return true;
        }
        if (needsAllClear) {
            return !asked.allClear()
                    || asked.since() == null
                    || date.isBefore(asked.since().plus(within.get()));
        }
        return asked.since() == null || !date.isAfter(asked.since().plus(within.get()));
    }
}
