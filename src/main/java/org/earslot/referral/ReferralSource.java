package org.earslot.referral;

import jakarta.persistence.Embeddable;
import java.time.LocalDate;
import org.earslot.page.DateRange;
import org.earslot.page.PlainText;
import org.jspecify.annotations.Nullable;

/**
 * Where a referral comes from; null is "not known".
 *
 * @param origin how it came in; a referral if nothing else is said
 */
@Embeddable
public record ReferralSource(
        @PlainText(max = 120) @Nullable String referrer,
        @DateRange(from = "2000-01-01", to = "P0D") LocalDate receivedOn,
        Origin origin) {

    public ReferralSource {
        origin = origin == null ? Origin.REFERRAL : origin;
    }

    /** The same received on that day. */
    public ReferralSource receivedOn(LocalDate day) {
        return new ReferralSource(referrer, day, origin);
    }
}
