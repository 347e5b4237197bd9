package org.earslot.referral;

import java.util.UUID;
import org.earslot.patient.PatientDetails;
import org.jspecify.annotations.Nullable;

/**
 * A referral to be taken in.
 *
 * @param localNumber of the patient; null for a new one with the next number
 * @param person what is said of the patient
 * @param samePerson whether somebody has looked at both and says that the patient known by that number is meant, though
 *     name or date of birth differ
 * @param thoughDeceased whether somebody has seen that the patient is recorded as deceased, and takes the referral in
 * @param formKey of the form that it was typed into: one form makes one referral; null if there is none
 */
public record NewReferral(
        @Nullable String localNumber,
        PatientDetails person,
        ReferralDetails said,
        boolean samePerson,
        boolean thoughDeceased,
        @Nullable UUID formKey) {}
