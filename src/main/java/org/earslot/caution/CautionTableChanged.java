package org.earslot.caution;

import org.earslot.clinic.ClinicId;

/** A clinic has changed its table of cautions. */
record CautionTableChanged(ClinicId clinicId) {}
