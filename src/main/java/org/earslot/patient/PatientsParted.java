package org.earslot.patient;

import java.util.UUID;

/** A merge is undone: what had gone along ({@code referral.Merging}) goes back to {@code backTo}. */
public record PatientsParted(UUID clinicId, UUID mergeId, UUID backTo, String backToNumber) {}
