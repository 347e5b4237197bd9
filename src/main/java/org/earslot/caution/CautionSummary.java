package org.earslot.caution;

import java.util.List;
import org.earslot.ear.Caution;
import org.earslot.ear.UnknownCode;

/**
 * All that is known of a patient's cautions on a day, for whoever books, prepares or treats.
 *
 * @param asked whether the list was read out for this referral; false without a referral
 * @param yes those answered with yes now
 * @param notKnown those that were asked now and could not be answered, in the order of the list
 * @param toConfirm those recorded earlier that nobody has asked about now, or could not say now
 * @param contradicted those recorded earlier that are not among today's answers although the list was read out: a
 *     question for the practitioner
 * @param unknown codes of cautions that this release does not know, from whichever referral: to be clarified with the
 *     patient, and never "none"
 */
public record CautionSummary(
        boolean asked,
        List<AskedCaution> yes,
        List<Caution> notKnown,
        List<PatientCaution> toConfirm,
        List<PatientCaution> contradicted,
        List<UnknownCode> unknown) {

    /** A person of whom nobody has asked and nothing is on record. */
    public static final CautionSummary OF_NOBODY_KNOWN =
            new CautionSummary(false, List.of(), List.of(), List.of(), List.of(), List.of());

    public CautionSummary {
        yes = List.copyOf(yes);
        notKnown = List.copyOf(notKnown);
        toConfirm = List.copyOf(toConfirm);
        contradicted = List.copyOf(contradicted);
        unknown = List.copyOf(unknown);
    }

    /** Whether there is nothing to be shown: the list was read out, and all was and is "no". */
    public boolean nothingKnown() {
        return asked
                && yes.isEmpty()
                && notKnown.isEmpty()
                && toConfirm.isEmpty()
                && contradicted.isEmpty()
                && unknown.isEmpty();
    }
}
