package org.earslot.referral;

import java.util.UUID;

/** A merge is undone: what had gone along ({@link Merging#thatWentAlong}) goes back to {@code backTo}. */
public record PatientsParted(UUID clinicId, UUID mergeId, UUID backTo, String backToNumber) {}
