package org.earslot.referral.web;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.PatientCautions;
import org.earslot.page.ChangedField;
import org.earslot.page.FormFields;
import org.earslot.page.Forms;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.patient.Patient;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The form of a referral in the order of a phone call, filled in or shown again. */
@Component
class ReferralFormPage {

    private final ClinicReferrals referrals;
    private final PatientCautions cautions;
    private final RedFlagSection redFlags;
    private final Forms forms;
    private final Messages messages;

    ReferralFormPage(
            ClinicReferrals referrals,
            PatientCautions cautions,
            RedFlagSection redFlags,
            Forms forms,
            Messages messages) {
        this.referrals = referrals;
        this.cautions = cautions;
        this.redFlags = redFlags;
        this.forms = forms;
        this.messages = messages;
    }

    /**
     * The form with what it is filled in with.
     *
     * @param action where it is sent
     */
    String show(Model model, FormFields form, String action) {
        return show(model, new ReferralReading(forms.of(form)), action);
    }

    /** The form once more, with what is wrong with it. */
    String show(Model model, ReferralReading reading, String action) {
        model.addAttribute("form", reading.fields());
        Map<String, Problem> problems = reading.byField();
        FieldNames names = fieldNames();
        model.addAttribute("problems", problems);
        model.addAttribute(
                "fieldNames", problems.keySet().stream().collect(Collectors.toMap(Function.identity(), names::of)));
        model.addAttribute("earlier", earlier(reading.fields()));
        model.addAttribute("action", action);
        redFlags.addQuestions(model);
        return "referral/form";
    }

    /** A blank form, or one about a patient, with cautions recorded earlier ticked, to be confirmed. */
    FormFields begun(Optional<Patient> patient) {
        FormFields form =
                patient.map(one -> ReferralForm.about(one, earlier(one.id()))).orElseGet(FormFields::new);
        form.put("receivedOn", referrals.today());
        form.put("priority", Priority.ROUTINE);
        return form;
    }

    /** A form filled with a stored referral. */
    FormFields stored(Referral referral) {
        UUID patient = referral.patientId();
        return ReferralForm.showing(referral, referrals.patient(patient), earlier(patient));
    }

    /** Brings the form up to date with what somebody else has saved since; answers each difference. */
    List<ChangedField> takeOver(FormFields typed, Referral now) {
        FormFields stored = ReferralForm.showing(now, referrals.patient(now.patientId()), List.of());
        return ReferralChanges.takeOver(typed, stored, fieldNames());
    }

    private FieldNames fieldNames() {
        return new FieldNames(messages, redFlags.redFlagTexts());
    }

    /** The cautions recorded of a patient so far that still count. */
    private List<PatientCaution> earlier(UUID patientId) {
        return cautions.inForce(referrals.clinicId(), patientId, referrals.today());
    }

    /** The cautions recorded so far of the patient whose number the form shows, by their codes. */
    private Map<String, List<PatientCaution>> earlier(FormFields form) {
        return referrals.known(form.get("localNumber")).map(patient -> earlier(patient.id())).orElse(List.of()).stream()
                .collect(Collectors.groupingBy(one -> one.caution().code()));
    }
}
