package org.earslot.visit;

import org.earslot.clinic.ClinicId;

/** Visits of the past went in: {@code count} lines new or changed. */
public record VisitsImported(ClinicId clinicId, long count) {}
