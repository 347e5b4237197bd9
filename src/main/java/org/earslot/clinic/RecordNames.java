package org.earslot.clinic;

import java.util.Map;

/** What the records of a room are called, so that the audit trail shows names. Never a patient's: see {@link PatientNames}. */
public interface RecordNames {

    /** The names by their ids as the trail has them, of all that the room holds in that clinic. */
    Map<String, String> of(ClinicId clinicId);
}
