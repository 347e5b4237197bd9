package org.earslot.booking;

import org.earslot.clinic.ClinicId;

/** Something has changed that any day of the clinic may rest on; published inside the transaction that changes it. */
public record DiaryChanged(ClinicId clinicId) {}
