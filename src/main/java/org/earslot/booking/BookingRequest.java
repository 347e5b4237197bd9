package org.earslot.booking;

import java.util.UUID;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** What is to be booked. */
public sealed interface BookingRequest {

    /** Wax removal as a referral asks for it. */
    record OfReferral(UUID referralId, AskedPlace place) implements BookingRequest {}

    /** Another kind of visit, of that kind's length; the length in {@code place} does not count. */
    record OfOtherVisit(UUID patientId, UUID kindId, AskedPlace place) implements BookingRequest {}

    /**
     * Wax removal between the others, without a slot.
     *
     * @param referralId the referral it serves; null where there is none
     * @param patientId counts where there is no referral
     * @param method the method; null for the referral's
     * @param ears the ears; null for the referral's
     * @param place who, where and from when; its length does not count
     */
    record OfFitIn(
            @Nullable UUID referralId,
            @Nullable UUID patientId,
            @Nullable Method method,
            @Nullable Ears ears,
            String reason,
            AskedPlace place)
            implements BookingRequest {}
}
