package org.earslot.booking;

import java.time.LocalDate;
import org.earslot.clinic.ClinicId;

/** Something of a day of the diary has changed; published inside the transaction that changes it. No patient's details. */
public record DayChanged(ClinicId clinicId, LocalDate date) {}
