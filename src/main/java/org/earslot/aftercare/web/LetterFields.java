package org.earslot.aftercare.web;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.aftercare.LetterKind;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Attendance;
import org.earslot.page.Messages;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Component;

/** What a clinic, a patient, a referral and an appointment put into the fields of a letter. */
@Component
public class LetterFields {

    private final ClinicFields clinicFields;
    private final ReferralFields referralFields;
    private final AppointmentFields appointmentFields;
    private final Patients patients;
    private final Referrals referrals;
    private final Appointments appointments;
    private final Messages messages;

    LetterFields(
            ClinicFields clinicFields,
            ReferralFields referralFields,
            AppointmentFields appointmentFields,
            Patients patients,
            Referrals referrals,
            Appointments appointments,
            Messages messages) {
        this.clinicFields = clinicFields;
        this.referralFields = referralFields;
        this.appointmentFields = appointmentFields;
        this.patients = patients;
        this.referrals = referrals;
        this.appointments = appointments;
        this.messages = messages;
    }

    public Map<String, String> of(Appointment appointment, LetterKind kind) {
        ClinicId clinic = appointment.clinicId();
        Map<String, String> fields = clinicFields.of(clinic);
        Optional<Referral> about = appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(clinic, id));
        about.ifPresent(referral -> {
            referralFields.put(fields, referral);
            referralFields.putAdvice(fields, appointment, referral);
        });
        appointment
                .patientId()
                .flatMap(id -> patients.findByClinicIdAndId(clinic, id))
                .ifPresent(patient -> put(fields, patient, kind.toPatient()));
        appointmentFields.put(fields, appointment, about, kind.toPatient());
        return fields;
    }

    public Map<String, String> of(Referral referral, LetterKind kind) {
        ClinicId clinic = referral.clinicId();
        Map<String, String> fields = clinicFields.of(clinic);
        referralFields.put(fields, referral);
        fields.put("method", referralFields.method(referral, kind.toPatient()));
        fields.put(
                "missed",
                appointments.findByClinicIdAndReferralIdInOrderByStartsAt(clinic, List.of(referral.id())).stream()
                        .filter(one -> one.attendance()
                                .filter(Attendance.DID_NOT_ATTEND::equals)
                                .isPresent())
                        .map(one -> LetterWords.day(one.place().date()))
                        .collect(Collectors.joining(", ")));
        patients.findByClinicIdAndId(clinic, referral.patientId())
                .ifPresent(patient -> put(fields, patient, kind.toPatient()));
        return fields;
    }

    public Map<String, String> of(Patient patient) {
        Map<String, String> fields = clinicFields.of(patient.clinicId());
        put(fields, patient, true);
        return fields;
    }

    /** A patient without a name is not addressed by a number. */
    private void put(Map<String, String> fields, Patient patient, boolean toPatient) {
        String given = LetterWords.text(patient.details().givenName());
        String family = LetterWords.text(patient.details().familyName());
        String name = (given + " " + family).strip();
        String nameless = toPatient ? messages.say("aftercare.letter.nameless") : patient.localNumber();
        fields.put("patient", name.isEmpty() ? nameless : name);
        fields.put("number", patient.localNumber());
        fields.put("carer", messages.say("aftercare.letter.carer", fields.get("patient")));
        fields.put("home", LetterWords.text(patient.details().postalAddress()));
        fields.put("born", LetterWords.day(patient.details().dateOfBirth()));
    }
}
