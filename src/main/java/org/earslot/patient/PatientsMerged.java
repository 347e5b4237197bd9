package org.earslot.patient;

import java.util.UUID;
import org.earslot.clinic.ClinicId;

/**
 * What belonged to the one patient now belongs to the other. Whoever keeps something by patient moves it in the same
 * transaction, and tells {@code referral.Merging} what, so that it can be moved back.
 */
public record PatientsMerged(
        ClinicId clinicId, UUID mergeId, UUID goneId, String goneNumber, UUID keptId, String keptNumber) {}
