package org.earslot.patient;

import java.util.UUID;
import org.earslot.referral.Merging;

/** A merge is undone: what had gone along ({@link Merging#thatWentAlong}) goes back to {@code backTo}. */
public record PatientsParted(UUID clinicId, UUID mergeId, UUID backTo, String backToNumber) {}
