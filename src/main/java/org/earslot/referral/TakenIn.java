package org.earslot.referral;

import java.util.List;
import org.earslot.patient.Patient;

/** What came of a referral to be taken in. */
public sealed interface TakenIn {

    /** It is stored, now or by the same form before. */
    record Done(Referral referral) implements TakenIn {}

    /**
     * Nothing was stored: the number is that of somebody else, or one of the two has a mistake.
     *
     * @param fields in which what was said contradicts what is known
     */
    record PatientDiffers(Patient known, List<String> fields) implements TakenIn {}

    /** Nothing was stored: the patient is recorded as deceased, perhaps by mistake. */
    record PatientDeceased(Patient known) implements TakenIn {}
}
