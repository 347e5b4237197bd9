package org.earslot.day;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * What has to be known about red flags of an appointment, by whoever looks at the day.
 *
 * @param referralId the referral where it is decided; null for a visit that has none, which is asked at arrival
 * @param clinician who decides; null if nobody is named or nothing is to be decided
 */
public record RedFlagNotice(
        State state, @Nullable UUID referralId, @Nullable String clinician) {

    /** What there is to say; the first that holds. */
    public enum State {
        /** A red flag waits for a clinician's decision. */
        OPEN,
        /** A red flag is open, and a clinician has decided to see the patient here. */
        TO_BE_SEEN,
        /** Not every red flag was ever asked. */
        TO_ASK,
        /** The patient is here, and nobody asked at arrival whether anything is new. */
        NOT_ASKED_AT_ARRIVAL
    }
}
