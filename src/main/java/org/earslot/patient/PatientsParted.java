package org.earslot.patient;

import java.util.UUID;
import org.earslot.clinic.ClinicId;

/** A merge is undone: what had gone along ({@code referral.Merging}) goes back to {@code backTo}. */
public record PatientsParted(ClinicId clinicId, UUID mergeId, UUID backTo, String backToNumber) {}
