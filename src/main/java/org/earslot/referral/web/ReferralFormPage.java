package org.earslot.referral.web;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.PatientCautions;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.CautionGroup;
import org.earslot.page.ChangedField;
import org.earslot.page.FormFields;
import org.earslot.page.Forms;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.patient.Patient;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralAppointments.Booked;
import org.earslot.referral.ReferralAppointments.Logged;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The form of a referral in the order of a phone call, filled in or shown again. */
@Component
class ReferralFormPage {

    /** Fields that a recorded patient has already. */
    private static final List<String> OF_THE_RECORD =
            List.of("localNumber", "familyName", "givenName", "dateOfBirth", "nameUnknown");

    private final ClinicReferrals referrals;
    private final PatientCautions cautions;
    private final ReferralAppointments appointments;
    private final RedFlagSection redFlags;
    private final Forms forms;
    private final Messages messages;

    ReferralFormPage(
            ClinicReferrals referrals,
            PatientCautions cautions,
            ReferralAppointments appointments,
            RedFlagSection redFlags,
            Forms forms,
            Messages messages) {
        this.referrals = referrals;
        this.cautions = cautions;
        this.appointments = appointments;
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
        Optional<Patient> recorded = referrals.known(reading.fields().get("localNumber"));
        model.addAttribute("recorded", recorded.orElse(null));
        model.addAttribute("earlier", byCode(recorded));
        model.addAttribute("openGroups", openGroups(reading.fields(), problems));
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
        patient.ifPresent(one -> putLastTime(form, one));
        return form;
    }

    /** The method that was planned last, and that it is no first visit if the patient was seen here before. */
    private void putLastTime(FormFields form, Patient patient) {
        referrals
                .latestOf(patient.id())
                .ifPresent(last -> form.put("method", last.details().request().methodPlanned()));
        ClinicId clinic = referrals.clinicId();
        boolean seen = Stream.concat(
                        appointments.ofPatient(clinic, patient.id()).stream().map(Booked::attendance),
                        appointments.logged(clinic, patient.localNumber()).stream()
                                .map(Logged::attendance))
                .anyMatch(attendance -> attendance != null
                        && Attendance.of(attendance).filter(Attendance::wasSeen).isPresent());
        form.put("firstVisit", seen ? Answer.NO : null);
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
    private Map<String, List<PatientCaution>> byCode(Optional<Patient> recorded) {
        return recorded.map(patient -> earlier(patient.id())).orElse(List.of()).stream()
                .collect(Collectors.groupingBy(one -> one.caution().code()));
    }

    /** The groups of cautions in which something is answered or wrong. */
    private static Set<CautionGroup> openGroups(FormFields form, Map<String, Problem> problems) {
        return Arrays.stream(Caution.values())
                .filter(caution -> form.has("cautions", caution.code())
                        || !form.get("unsure." + caution.code()).isEmpty()
                        || problems.containsKey("since." + caution.code()))
                .map(Caution::group)
                .collect(Collectors.toCollection(() -> EnumSet.noneOf(CautionGroup.class)));
    }

    /** What was typed so far, about a patient known here: name and birth as recorded, and cautions recorded earlier added. */
    FormFields about(Patient patient, FormFields typed) {
        FormFields form = begun(Optional.of(patient));
        typed.allBut(OF_THE_RECORD).forEach((field, given) -> {
            given.stream()
                    .filter(value -> !field.equals("cautions") || !form.has(field, value))
                    .filter(value -> !value.isBlank())
                    .forEach(value -> {
                        if (!field.equals("cautions")) {
                            form.clear(field);
                        }
                        form.add(field, value);
                    });
        });
        return form;
    }
}
