package org.earslot.caution;

import java.util.List;
import org.earslot.ear.UnknownCode;

/**
 * The stored codes of a referral that this release does not know. They never count as "no": an unknown caution is to be
 * clarified with the patient, an unknown red flag goes to a clinician.
 *
 * @param cautions answered with yes or "not known"
 * @param redFlags answered with yes or "not known"
 */
public record UnknownCodes(List<UnknownCode> cautions, List<UnknownCode> redFlags) {

    /** Every code is known. */
    public static final UnknownCodes NONE = new UnknownCodes(List.of(), List.of());

    public UnknownCodes {
        cautions = List.copyOf(cautions);
        redFlags = List.copyOf(redFlags);
    }

    /** The same with these cautions. */
    public UnknownCodes withCautions(List<UnknownCode> unknown) {
        return new UnknownCodes(unknown, redFlags);
    }
}
