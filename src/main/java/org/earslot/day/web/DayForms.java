package org.earslot.day.web;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Pattern;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.web.PlaceForm;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Sessions;
import org.earslot.day.web.TypedPatients.Meant;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.Forms;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.patient.Patient;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Component;

/** Reads what is typed to book straight into a day. */
@Component
class DayForms {

    private static final int LONGEST_TEXT = 200;

    private final Sessions sessions;
    private final TypedPatients patients;
    private final Referrals referrals;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Forms forms;
    private final Messages messages;

    DayForms(
            Sessions sessions,
            TypedPatients patients,
            Referrals referrals,
            CurrentClinic current,
            ClinicClock clock,
            Forms forms,
            Messages messages) {
        this.sessions = sessions;
        this.patients = patients;
        this.referrals = referrals;
        this.current = current;
        this.clock = clock;
        this.forms = forms;
        this.messages = messages;
    }

    /** What was answered on the card. */
    record Asked(RedFlagAnswers redFlags, List<Caution> cautions) {

        /** The same with the pain that the reason speaks of as a yes. */
        Asked withPain() {
            Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.class);
            answers.putAll(redFlags.answers());
            answers.put(RedFlag.PAIN_OR_DISCHARGE, Answer.YES);
            return new Asked(new RedFlagAnswers(answers, redFlags.words()), cautions);
        }
    }

    /** A fit-in as it was asked for. */
    record FitIn(OfFitIn wish, ClinicSession session, Patient patient) {}

    /** The fit-in, from now on today, from the session's start on another day; or problems in the reading. */
    Optional<FitIn> fitIn(Reading reading, LocalDate date, Map<String, String> typed) {
        Optional<Patient> patient = patient(reading, "fitInPatient", typed);
        Optional<Referral> referral = patient.flatMap(this::openReferral);
        Optional<String> reason = reading.required(
                "fitInReason",
                reading.text("fitInReason", typed.get("fitInReason"), LONGEST_TEXT)
                        .or(() -> referral.map(this::reasonOf)),
                "page.allowed.reason");
        Optional<ClinicSession> session = session(reading, "fitInSession", date, typed);
        Optional<Method> method =
                reading.word("fitInMethod", typed.get("fitInMethod"), Method::of, Word.codes(Method.values()));
        Optional<Ears> ears = reading.word("fitInEars", typed.get("fitInEars"), Ears::of, Word.codes(Ears.values()));
        if (patient.isPresent() && referral.isEmpty() && reading.clean()) {
            reading.required("fitInMethod", method, "day.fitIn.allowed.method");
            reading.required("fitInEars", ears, "day.fitIn.allowed.ears");
        }
        if (!reading.clean() || session.isEmpty()) {
            return Optional.empty();
        }
        LocalDateTime now = clock.local(current.id(), clock.now()).withSecond(0);
        LocalDateTime from = date.equals(now.toLocalDate())
                ? now
                : date.atTime(session.get().span().from());
        return Optional.of(new FitIn(
                new OfFitIn(
                        referral.map(Referral::id).orElse(null),
                        patient.map(Patient::id).orElse(null),
                        method.orElse(null),
                        ears.orElse(null),
                        reason.orElse(""),
                        new AskedPlace(
                                session.get().practitionerId(), session.get().roomId(), from, 1)),
                session.get(),
                patient.orElseThrow()));
    }

    /** Why somebody comes who gives no other reason: what the open referral is for, on one line. */
    private String reasonOf(Referral referral) {
        return Optional.ofNullable(referral.details().request().reason())
                .map(said -> said.strip().replaceAll("\\s+", " "))
                .map(said -> said.substring(0, Math.min(said.length(), LONGEST_TEXT)))
                .orElseGet(() -> messages.say("day.form.asReferral"));
    }

    /** What was answered on the card so far. */
    Asked answeredSoFar(Reading reading, Map<String, String> typed) {
        Form form = forms.of(FormFields.single(typed));
        RedFlagAnswers redFlags = RedFlagAnswers.read(form);
        reading.add(form.problems());
        return new Asked(redFlags, cautions(typed));
    }

    private static List<Caution> cautions(Map<String, String> typed) {
        return Arrays.stream(Caution.values())
                .filter(caution -> typed.containsKey("caution." + caution.code()))
                .toList();
    }

    /** What was answered on the card: red flags and cautions, both in full; or problems in the reading. */
    Optional<Asked> answers(Reading reading, Map<String, String> typed) {
        Asked given = answeredSoFar(reading, typed);
        RedFlagAnswers redFlags = given.redFlags();
        List<Caution> cautions = given.cautions();
        if (reading.clean() && !redFlags.complete() && !redFlags.stop()) {
            reading.refuse("noneFlagged", "", "appointment.arrival.each");
        }
        if (cautions.isEmpty() && !typed.containsKey("cautionsAsked") && !redFlags.stop()) {
            reading.refuse("cautionsAsked", "", "day.fitIn.cautions.needed");
        }
        return reading.clean() ? Optional.of(given) : Optional.empty();
    }

    /** Whether the reason says that something hurts: a painful ear is a clinician's, not a fit-in for wax. */
    boolean pain(String reason) {
        return Pattern.compile("\\b(" + messages.say("day.fitIn.pain.words") + ")\\b", Pattern.CASE_INSENSITIVE)
                .matcher(reason)
                .find();
    }

    /** Who may be meant by what was typed for the patient of a fit-in, where that is not one alone. */
    List<Patient> choices(Map<String, String> typed) {
        Meant meant = patients.by(typed.getOrDefault("fitInPatient", ""));
        if (meant.certain()) {
            return List.of();
        }
        patients.shown(meant.patients());
        return meant.patients();
    }

    Optional<Patient> patient(Reading reading, String field, Map<String, String> typed) {
        Optional<String> text =
                reading.required(field, reading.text(field, typed.get(field), LONGEST_TEXT), "day.form.patient.needed");
        Optional<Meant> meant = text.map(patients::by);
        if (meant.isPresent() && !meant.get().certain()) {
            String why = meant.get().patients().isEmpty() ? "day.form.patient.none" : "day.form.patient.several";
            reading.refuse(field, "", why);
        }
        return meant.filter(Meant::certain).map(found -> found.patients().get(0));
    }

    /** The latest referral that is not booked or closed, also one that waits for answers or for a clinician. */
    Optional<Referral> openReferral(Patient patient) {
        return openReferralOf(patient.id());
    }

    Optional<Referral> openReferralOf(UUID patientId) {
        return referrals.ofPatient(current.id(), patientId).stream()
                .filter(referral ->
                        referral.status() != ReferralStatus.BOOKED && referral.status() != ReferralStatus.CLOSED)
                .findFirst();
    }

    Optional<ClinicSession> session(Reading reading, String field, LocalDate date, Map<String, String> typed) {
        List<ClinicSession> held = PlaceForm.Days.holds(date) ? sessions.on(current.id(), date) : List.of();
        String key = typed.getOrDefault(field, "");
        Optional<ClinicSession> found =
                held.stream().filter(session -> session.key().equals(key)).findFirst();
        if (found.isEmpty()) {
            reading.refuse(field, "", "day.allowed.session");
        }
        return found;
    }
}
