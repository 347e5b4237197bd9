package org.earslot.referral.web;

import java.util.List;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.PatientCaution;
import org.earslot.ear.Ear;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;
import org.earslot.patient.Patient;
import org.earslot.referral.Intake;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;

/** The referral form filled in with what is known; {@link ReferralReading} reads it. */
final class ReferralForm {

    private ReferralForm() {}

    /** A form filled with what is known of a patient, cautions recorded earlier ticked to be confirmed. */
    static FormFields about(Patient patient, List<PatientCaution> earlier) {
        FormFields form = about(patient);
        remember(form, earlier);
        return form;
    }

    private static FormFields about(Patient patient) {
        FormFields form = new FormFields();
        form.put("localNumber", patient.localNumber());
        form.put(patient.details());
        form.put("nameUnknown", patient.details().familyName() == null ? "yes" : null);
        return form;
    }

    /** Ticks what was recorded earlier; of one caution in both ears, the whole patient. */
    private static void remember(FormFields form, List<PatientCaution> earlier) {
        for (PatientCaution one : earlier) {
            String code = one.caution().code();
            if (form.has("cautions", code)) {
                form.clear("ear." + code);
                form.clear("method." + code);
            } else {
                tick(form, one.asked());
            }
        }
    }

    private static void tick(FormFields form, AskedCaution asked) {
        form.add("cautions", asked.caution().code());
        form.put(asked, ReferralReading.fieldOf(asked.caution()));
        form.clear("caution." + asked.caution().code());
        if (!asked.allClear()) {
            form.clear("allClear." + asked.caution().code());
        }
    }

    /** A form filled with a referral; cautions recorded earlier are ticked as well while the list has not been read out. */
    static FormFields showing(Referral referral, Patient patient, List<PatientCaution> earlier) {
        FormFields form = about(patient);
        form.put(FormVersion.FIELD, Intake.version(referral, patient));
        ReferralDetails said = referral.details();
        form.put(said.source());
        form.put(said.request(), ReferralReading::fieldOf);
        for (Ear ear : Ear.values()) {
            form.put(said.reported().of(ear), ReferralReading.fieldOf(ear));
        }
        form.put("redFlag", said.redFlags().words());
        said.redFlags().answers().forEach((flag, answer) -> form.put("flag." + flag.code(), answer));
        said.cautions().notKnown().forEach(caution -> form.put("unsure." + caution.code(), "yes"));
        said.cautions().yes().forEach(asked -> tick(form, asked));
        if (said.cautions().asked()) {
            form.put("noneOfThese", "yes");
        }
        if (!said.cautions().asked()) {
            remember(
                    form,
                    earlier.stream()
                            .filter(one -> !form.has("cautions", one.caution().code()))
                            .toList());
        }
        return form;
    }
}
