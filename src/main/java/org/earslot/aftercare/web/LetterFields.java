package org.earslot.aftercare.web;

import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.Letters;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.PlannedVisit;
import org.earslot.caution.SoftenerAdvice;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ears;
import org.earslot.ear.UnknownCode;
import org.earslot.page.Messages;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.referral.SoftenerRule;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What a clinic, a patient, a referral and an appointment put into the fields of a letter. */
@Component
public class LetterFields {

    private static final DateTimeFormatter WHEN =
            DateTimeFormatter.ofPattern("EEEE d MMMM yyyy, HH:mm", Locale.ENGLISH);

    private final Letters letters;
    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Patients patients;
    private final Referrals referrals;
    private final Appointments appointments;
    private final Visits visits;
    private final VisitFields visitFields;
    private final SoftenerRule softener;
    private final ClinicClock clock;
    private final Messages messages;
    private final LetterWords words;

    LetterFields(
            Letters letters,
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            Patients patients,
            Referrals referrals,
            Appointments appointments,
            Visits visits,
            VisitFields visitFields,
            SoftenerRule softener,
            ClinicClock clock,
            Messages messages) {
        this.letters = letters;
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.patients = patients;
        this.referrals = referrals;
        this.appointments = appointments;
        this.visits = visits;
        this.visitFields = visitFields;
        this.softener = softener;
        this.clock = clock;
        this.messages = messages;
        this.words = new LetterWords(messages);
    }

    public Map<String, String> of(Appointment appointment, LetterKind kind) {
        ClinicId clinic = appointment.clinicId();
        Map<String, String> fields = ofClinic(clinic);
        Optional<Referral> about = appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(clinic, id));
        about.ifPresent(referral -> {
            put(fields, referral);
            fields.put("advice", piece(advice(appointment, referral), fields));
        });
        appointment
                .patientId()
                .flatMap(id -> patients.findByClinicIdAndId(clinic, id))
                .ifPresent(patient -> put(fields, patient, kind.toPatient()));
        LocalDateTime start = clock.local(clinic, appointment.place().start());
        fields.put("when", WHEN.format(start));
        if (appointment.place().slotMinutes() > 0) {
            fields.put("minutes", String.valueOf(appointment.place().slotMinutes()));
        }
        practitioners
                .findByClinicIdAndId(clinic, appointment.place().practitionerId())
                .map(Practitioner::name)
                .ifPresent(name -> fields.put("practitioner", name));
        rooms.findByClinicIdAndId(clinic, appointment.place().roomId())
                .map(Room::name)
                .ifPresent(name -> fields.put("room", name));
        PlannedVisit planned = appointment.planned();
        fields.put("ears", ears(planned.ears()));
        fields.put("method", planned.method() == null ? "" : words.method(planned.method(), kind.toPatient()));
        appointment
                .visitId()
                .flatMap(id -> visits.findByClinicIdAndId(clinic, id))
                .ifPresent(visit -> visitFields.put(
                        fields,
                        appointment,
                        visit,
                        about.map(one -> one.details().redFlags().notes()).orElse(List.of()),
                        kind.toPatient()));
        return fields;
    }

    public Map<String, String> of(Referral referral, LetterKind kind) {
        ClinicId clinic = referral.clinicId();
        Map<String, String> fields = ofClinic(clinic);
        put(fields, referral);
        fields.put("method", words.method(referral.details().request().methodPlanned(), kind.toPatient()));
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
        Map<String, String> fields = ofClinic(patient.clinicId());
        put(fields, patient, true);
        return fields;
    }

    private Map<String, String> ofClinic(ClinicId clinicId) {
        Clinic clinic = clinics.findById(clinicId).orElseThrow();
        Map<String, String> fields = new HashMap<>();
        fields.put("clinic", clinic.name());
        fields.put("phone", LetterWords.text(clinic.contact().phone()));
        fields.put("address", LetterWords.text(clinic.contact().address()));
        fields.put("hours", LetterWords.text(clinic.contact().openingHours()));
        fields.put("today", LetterWords.day(clock.today(clinicId)));
        fields.put("aftercare", piece(letters.body(clinicId, LetterKind.AFTERCARE), fields));
        return fields;
    }

    /** A piece of advice with the clinic's phone filled in. */
    private static String piece(String text, Map<String, String> fields) {
        return text.replace("{phone}", fields.getOrDefault("phone", "")).strip();
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

    private void put(Map<String, String> fields, Referral referral) {
        ReferralDetails said = referral.details();
        fields.put("reason", LetterWords.text(said.request().reason()));
        fields.put("referrer", LetterWords.text(said.source().referrer()));
        fields.put("received", LetterWords.day(said.source().receivedOn()));
        fields.put("ears", ears(said.request().ears()));
        fields.put(
                "cautions",
                words.cautions(said.cautions().yes(), said.cautions().unknown()));
        fields.put("flags", flags(said.redFlags()));
    }

    private String ears(@Nullable Ears ears) {
        return ears == null ? "" : messages.say("aftercare.letter.ears." + ears.code());
    }

    /** "All asked, all no", "not asked", or the flags by any other answer. */
    private String flags(RedFlagAnswers said) {
        Map<String, List<String>> byAnswer = new LinkedHashMap<>();
        for (RedFlag flag : RedFlag.values()) {
            String answer =
                    said.of(flag).map(messages::word).orElseGet(() -> messages.say("aftercare.letter.flag.notAsked"));
            if (!said.of(flag).equals(Optional.of(Answer.NO))) {
                byAnswer.computeIfAbsent(answer, key -> new ArrayList<>())
                        .add(messages.say("aftercare.letter.flag." + flag.code()));
            }
        }
        if (!said.unknown().isEmpty()) {
            byAnswer.put(
                    messages.say("aftercare.letter.unknown"),
                    said.unknown().stream().map(UnknownCode::shown).toList());
        }
        if (byAnswer.isEmpty()) {
            return messages.say("aftercare.letter.flags.none");
        }
        if (Arrays.stream(RedFlag.values()).allMatch(flag -> said.of(flag).isEmpty())) {
            return messages.say("aftercare.letter.flag.notAsked");
        }
        return byAnswer.entrySet().stream()
                .map(entry -> entry.getKey() + ": " + String.join(", ", entry.getValue()))
                .collect(Collectors.joining("; "));
    }

    /** The method's own advice, or that softener is to be left alone; ear by ear where they differ. */
    private String advice(Appointment appointment, Referral referral) {
        PlannedVisit planned = appointment.planned();
        if (planned.method() == null || planned.ears() == null) {
            return "";
        }
        String byMethod = letters.body(appointment.clinicId(), LetterKind.adviceFor(planned.method()))
                .strip();
        List<SoftenerAdvice.Part> parts = softener.advice(
                        referral, planned.ears(), appointment.place().date())
                .parts();
        return parts.stream()
                .map(part -> advice(part, parts.size() == 1, byMethod))
                .collect(Collectors.joining(" "));
    }

    private String advice(SoftenerAdvice.Part part, boolean sameForAll, String byMethod) {
        String ears = messages.say("aftercare.advice.ears." + part.ears().code());
        if (part.use() == SoftenerAdvice.Use.ALLOWED) {
            return sameForAll ? byMethod : messages.say("aftercare.advice.only", ears) + " " + byMethod;
        }
        return messages.say("aftercare.advice." + (part.byAllergyAlone() ? "ALLERGY" : part.use()), ears);
    }
}
