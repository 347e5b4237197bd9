package org.earslot.diary.web;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.diary.Appointment;
import org.earslot.diary.Attempts;
import org.earslot.diary.FollowUps;
import org.earslot.diary.LetterKind;
import org.earslot.diary.Letters;
import org.earslot.diary.PlannedVisit;
import org.earslot.diary.SoftenerAdvice;
import org.earslot.ear.Ear;
import org.earslot.ear.Word;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.util.StringUtils;

/** What an appointment puts into the fields of a letter. */
@Component
class LetterFields {

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM yyyy", Locale.ENGLISH);
    private static final DateTimeFormatter WHEN =
            DateTimeFormatter.ofPattern("EEEE d MMMM yyyy, HH:mm", Locale.ENGLISH);

    private final Letters letters;
    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Patients patients;
    private final Referrals referrals;
    private final Visits visits;
    private final Attempts attempts;
    private final FollowUps followUps;
    private final ClinicClock clock;
    private final DiaryWords words;

    LetterFields(
            Letters letters,
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            Patients patients,
            Referrals referrals,
            Visits visits,
            Attempts attempts,
            FollowUps followUps,
            ClinicClock clock,
            DiaryWords words) {
        this.letters = letters;
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.patients = patients;
        this.referrals = referrals;
        this.visits = visits;
        this.attempts = attempts;
        this.followUps = followUps;
        this.clock = clock;
        this.words = words;
    }

    Map<String, String> of(Appointment appointment) {
        UUID clinic = appointment.clinicId();
        Map<String, String> fields = new HashMap<>();
        LocalDateTime start = clock.local(clinic, appointment.place().start());
        fields.put("clinic", clinics.findById(clinic).orElseThrow().name());
        fields.put("today", DAY.format(clock.today(clinic)));
        fields.put("when", WHEN.format(start));
        practitioners
                .findByClinicIdAndId(clinic, appointment.place().practitionerId())
                .map(Practitioner::name)
                .ifPresent(name -> fields.put("practitioner", name));
        rooms.findByClinicIdAndId(clinic, appointment.place().roomId())
                .map(Room::name)
                .ifPresent(name -> fields.put("room", name));
        Optional<Patient> patient = appointment.patientId().flatMap(id -> patients.findByClinicIdAndId(clinic, id));
        patient.ifPresent(known -> person(fields, known));
        PlannedVisit planned = appointment.planned();
        fields.put(
                "ears",
                planned.ears() == null
                        ? ""
                        : words.say("diary.letter.ears." + planned.ears().code()));
        fields.put("method", planned.method() == null ? "" : word(planned.method()));
        Optional<ReferralDetails> said = appointment
                .referralId()
                .flatMap(id -> referrals.findByClinicIdAndId(clinic, id))
                .map(Referral::details);
        said.ifPresent(referral -> {
            fields.put("reason", text(referral.reason()));
            fields.put("referrer", text(referral.referrer()));
            fields.put("advice", advice(appointment, referral));
        });
        fields.put("aftercare", letters.body(clinic, LetterKind.AFTERCARE).strip());
        appointment
                .visitId()
                .flatMap(id -> visits.findByClinicIdAndId(clinic, id))
                .ifPresent(visit -> seen(fields, appointment, visit));
        return fields;
    }

    private static void person(Map<String, String> fields, Patient patient) {
        String given = text(patient.details().givenName());
        String family = text(patient.details().familyName());
        LocalDate born = patient.details().dateOfBirth();
        fields.put(
                "patient", (given + " " + family).isBlank() ? patient.localNumber() : (given + " " + family).strip());
        fields.put("number", patient.localNumber());
        fields.put("born", born == null ? "" : DAY.format(born));
    }

    private void seen(Map<String, String> fields, Appointment appointment, Visit visit) {
        List<String> found = new ArrayList<>();
        for (Ear ear : Ear.values()) {
            if (visit.outcome(ear).isPresent()) {
                String methods = String.join(
                        ", ", visit.methods(ear).stream().map(this::word).toList());
                found.add(words.say(
                        "diary.letter.ear",
                        StringUtils.capitalize(word(ear)),
                        word(visit.outcome(ear).get()),
                        methods.isEmpty() ? "–" : methods));
            }
        }
        fields.put("findings", String.join(" ", found));
        List<String> tried = new ArrayList<>();
        attempts.of(appointment.clinicId(), visit.patientRef(), visit.date())
                .forEach((ear, counts) -> counts.forEach((method, count) -> tried.add(
                        words.say("diary.letter.attempt", word(ear), word(method), count.tried(), count.failed()))));
        fields.put("attempts", String.join(" ", tried));
        if (!found.isEmpty()) {
            fields.put(
                    "next",
                    followUps.next(appointment).map(this::next).orElseGet(() -> words.say("diary.letter.nothing")));
        }
    }

    /** What the practitioner decided; blank while undecided. */
    private String next(FollowUps.Next next) {
        return next.decided() == null
                ? ""
                : switch (next.decided()) {
                    case ENOUGH -> words.say("diary.letter.enough");
                    case COME_AGAIN -> words.say("diary.letter.comeAgain");
                    case REFER_ON -> words.say("diary.letter.referOn");
                };
    }

    /** The method's own advice, or that softener is to be left alone. */
    private String advice(Appointment appointment, ReferralDetails said) {
        if (appointment.planned().method() == null) {
            return "";
        }
        SoftenerAdvice advice = SoftenerAdvice.of(said, appointment.planned().method());
        List<String> lines = new ArrayList<>();
        if (advice.byMethod()) {
            lines.add(letters.body(
                            appointment.clinicId(),
                            SoftenerAdvice.text(appointment.planned().method()))
                    .strip());
        }
        advice.besides().stream().sorted().forEach(besides -> lines.add(words.say("diary.advice." + besides.name())));
        return String.join(" ", lines);
    }

    private String word(Word word) {
        return words.say(word.getClass().getSimpleName() + "." + word.code());
    }

    private static String text(@Nullable String text) {
        return text == null ? "" : text;
    }
}
