package org.earslot.referral;

import java.time.LocalDate;
import java.time.Period;
import java.util.Optional;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;

/**
 * One cell of the table of cautions.
 *
 * @param within how long after it was last so the caution counts; empty for always
 * @param source where the verdict comes from
 * @param signedOff whether it is published or signed off; what is from memory is not, until the lead signs it
 */
public record CautionRule(
        Caution caution, Method method, Verdict verdict, Optional<Period> within, String source, boolean signedOff) {

    /**
     * Whether the rule counts on {@code date} for a caution last so on {@code since}: the last day of the period is
     * still inside it, and where the day is not known the rule counts.
     */
    boolean countsOn(LocalDate date, Optional<LocalDate> since) {
        return within.isEmpty() || since.isEmpty() || !date.isAfter(since.get().plus(within.get()));
    }
}
