package org.earslot.estimate;

import org.earslot.clinic.ClinicId;

/** The fit in force was made by another release, which computes otherwise: a new one is due. */
record OutdatedFit(ClinicId clinicId) {}
