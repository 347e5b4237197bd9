package org.earslot.referral.web;

import java.time.LocalDate;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.caution.CautionTables;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.PatientCautions;
import org.earslot.caution.Suitability;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake;
import org.earslot.referral.MethodOverrides;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagCases;
import org.earslot.referral.RedFlagStep;
import org.earslot.referral.RedFlagText;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.RedFlags;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDraft;
import org.earslot.referral.Referrals;
import org.earslot.referral.SoftenerRule;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The page of a referral, shown again by whoever refuses something on it. */
@Component
class ReferralPage {

    /** In the United Kingdom young people of 16 and 17 are taken to be able to consent (Family Law Reform Act 1969, s. 8). */
    private static final int ADULT_AT = 16;

    private final Patients patients;
    private final Referrals referrals;
    private final MethodSuitability suitability;
    private final PatientCautions cautions;
    private final CautionTables tables;
    private final MethodOverrides overrides;
    private final RedFlags redFlags;
    private final RedFlagCases cases;
    private final RedFlagTriage triage;
    private final RedFlagClock redFlagClock;
    private final Practitioners practitioners;
    private final CurrentClinic current;
    private final SoftenerRule softener;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final Messages messages;

    ReferralPage(
            Patients patients,
            Referrals referrals,
            MethodSuitability suitability,
            PatientCautions cautions,
            CautionTables tables,
            MethodOverrides overrides,
            RedFlags redFlags,
            RedFlagCases cases,
            RedFlagTriage triage,
            RedFlagClock redFlagClock,
            Practitioners practitioners,
            CurrentClinic current,
            SoftenerRule softener,
            ClinicClock clock,
            ApplicationEventPublisher events,
            Messages messages) {
        this.patients = patients;
        this.referrals = referrals;
        this.suitability = suitability;
        this.cautions = cautions;
        this.tables = tables;
        this.overrides = overrides;
        this.redFlags = redFlags;
        this.cases = cases;
        this.triage = triage;
        this.redFlagClock = redFlagClock;
        this.practitioners = practitioners;
        this.current = current;
        this.softener = softener;
        this.clock = clock;
        this.events = events;
        this.messages = messages;
    }

    Referral referral(UUID id) {
        return referrals.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("referral"));
    }

    Patient patient(UUID id) {
        return patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
    }

    /** The version of a referral and its patient as they are now. */
    FormVersion version(UUID id) {
        Referral referral = referral(id);
        return Intake.version(referral, patient(referral.patientId()));
    }

    List<Practitioner> clinicians() {
        return practitioners.findByClinicIdOrderByName(current.id()).stream()
                .filter(Practitioner::active)
                .toList();
    }

    /** The names of all who were ever clinicians here. */
    Map<UUID, String> clinicianNames() {
        return practitioners.findByClinicIdOrderByName(current.id()).stream()
                .collect(Collectors.toMap(Practitioner::id, Practitioner::name));
    }

    /** What is asked first, by its flag. */
    Map<String, RedFlagText> redFlagTexts() {
        return redFlags.texts(current.id()).stream()
                .collect(Collectors.toMap(
                        text -> text.flag().code(), Function.identity(), (one, other) -> one, LinkedHashMap::new));
    }

    /** These patients are shown on a page about more than one referral. */
    void viewed(String where, Collection<UUID> shown) {
        if (!shown.isEmpty()) {
            events.publishEvent(Audited.viewed(current.id(), where, shown));
        }
    }

    /** A draft is shown: of a patient already known, where it gives a local number. */
    void viewed(ReferralDraft draft) {
        String number = draft.get("localNumber");
        UUID known = patients.known(current.id(), number).map(Patient::id).orElse(null);
        events.publishEvent(new Audited.Entry(
                        current.id(),
                        "draft-viewed",
                        "referral-draft",
                        draft.id().toString(),
                        null)
                .about(known));
    }

    FieldNames fieldNames() {
        return new FieldNames(messages, redFlagTexts());
    }

    /** The cautions recorded of a patient so far that still count. */
    List<PatientCaution> earlier(UUID patientId) {
        return cautions.inForce(current.id(), patientId, clock.today(current.id()));
    }

    /** The cautions recorded so far of the patient whose number the form shows, by their codes. */
    private Map<String, List<PatientCaution>> earlier(FormFields form) {
        return patients
                .known(current.id(), form.get("localNumber"))
                .map(patient -> earlier(patient.id()))
                .orElse(List.of())
                .stream()
                .collect(Collectors.groupingBy(one -> one.caution().code()));
    }

    /** The form in the order of a phone call. */
    String form(Model model, ReferralReading reading, String action) {
        model.addAttribute("form", reading.fields());
        Map<String, Problem> problems = reading.byField();
        FieldNames names = fieldNames();
        model.addAttribute("problems", problems);
        model.addAttribute(
                "fieldNames", problems.keySet().stream().collect(Collectors.toMap(Function.identity(), names::of)));
        model.addAttribute("earlier", earlier(reading.fields()));
        model.addAttribute("action", action);
        model.addAttribute("flagTexts", redFlagTexts());
        model.addAttribute("clinicians", clinicians());
        return "referral/form";
    }

    String show(Model model, UUID id) {
        return show(model, id, Map.of(), Map.of());
    }

    /** Judged on the date asked for, else on the first day it could be booked. */
    private void suitability(Model model, Referral referral, Map<String, String> typed) {
        UUID clinic = current.id();
        LocalDate today = clock.today(clinic);
        LocalDate first = referral.details().request().notBefore() != null
                        && today.isBefore(referral.details().request().notBefore())
                ? referral.details().request().notBefore()
                : today;
        LocalDate on = new Reading()
                .date("on", typed.get("on"), today.minusYears(1), today.plusYears(2))
                .orElse(first);
        List<Suitability> judged = suitability.judge(referral, on);
        model.addAttribute("on", on);
        model.addAttribute("suitability", judged);
        model.addAttribute(
                "softener",
                softener.advice(referral, referral.details().request().ears(), on));
        model.addAttribute(
                "overridden",
                judged.stream()
                        .filter(suits -> suits.contraindicated() && suitability.overridden(referral, suits))
                        .map(Suitability::method)
                        .collect(Collectors.toSet()));
        model.addAttribute("overrides", overrides.standing(clinic, referral.id()));
        model.addAttribute("tableVersion", tables.of(clinic).version());
    }

    /** @param typed what was typed into a form that is refused @param problems by field */
    String show(Model model, UUID id, Map<String, String> typed, Map<String, Problem> problems) {
        UUID clinic = current.id();
        Referral referral = referral(id);
        List<RedFlagCase> raised = cases.findByClinicIdAndReferralIdOrderByRaisedAtDesc(clinic, id);
        model.addAttribute("referral", referral);
        model.addAttribute("said", referral.details());
        Patient patient = patient(referral.patientId());
        model.addAttribute("patient", patient);
        model.addAttribute("titleOf", patient.displayName());
        model.addAttribute("child", child(patient.details(), clock.today(clinic)));
        model.addAttribute("age", patient.details().ageOn(clock.today(clinic)).orElse(null));
        suitability(model, referral, typed);
        model.addAttribute(
                "known",
                cautions.summary(clinic, patient.id(), referral.details().cautions(), clock.today(clinic)));
        model.addAttribute("raised", raised);
        model.addAttribute(
                "openCase",
                raised.stream().filter(RedFlagCase::open).findFirst().orElse(null));
        model.addAttribute("stillToAsk", triage.stillToAsk(referral));
        model.addAttribute("notUnderstood", triage.notUnderstood(referral));
        model.addAttribute("mayDecide", current.practitionerId().isPresent());
        raised.stream().filter(RedFlagCase::open).findFirst().ifPresent(open -> {
            model.addAttribute("dueBy", redFlagClock.by(clinic, open));
            model.addAttribute("overdue", redFlagClock.overdue(clinic, open));
            model.addAttribute(
                    "stroke",
                    open.said().contains(RedFlag.LOSS_WITH_DROOP) || open.said().contains(RedFlag.NEW_VERTIGO));
        });
        List<RedFlagStep> steps = triage.steps(clinic, raised);
        model.addAttribute("steps", steps);
        model.addAttribute(
                "notReached",
                !steps.isEmpty() && steps.get(steps.size() - 1).what().equals(RedFlagStep.What.NOT_REACHED.code()));
        model.addAttribute("zone", clock.zone(clinic));
        model.addAttribute("flagTexts", redFlagTexts());
        model.addAttribute("clinicians", clinicians());
        model.addAttribute("clinicianNames", clinicianNames());
        model.addAttribute("values", typed);
        model.addAttribute("problems", problems);
        events.publishEvent(Audited.viewed(clinic, "referral", List.of(referral.patientId())));
        return "referral/referral";
    }

    /** A child of whom it is not known who consents or who comes along. */
    private static boolean child(PatientDetails person, LocalDate today) {
        boolean young = person.dateOfBirth() != null
                && person.dateOfBirth().plusYears(ADULT_AT).isAfter(today);
        return young && (person.consentBy() == null || person.comesWith() == null);
    }
}
