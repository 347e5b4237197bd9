package org.earslot.booking;

import java.util.UUID;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/**
 * What an appointment is for: either wax removal (method and ears) or another kind of visit of fixed length.
 *
 * @param referralId the referral it serves, if any
 * @param otherVisitKindId set exactly where {@code method} is not
 * @param estimate the estimated length as stored with the appointment (JSON), if there was one
 */
public record PlannedVisit(
        @Nullable UUID referralId,
        @Nullable UUID patientId,
        @Nullable UUID otherVisitKindId,
        @Nullable Method method,
        @Nullable Ears ears,
        @Nullable String estimate,
        @Nullable String estimateVersion) {}
