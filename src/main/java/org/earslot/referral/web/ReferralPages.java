package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Word;
import org.earslot.page.Refused;
import org.earslot.referral.Intake;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.data.domain.Limit;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Referrals: the lists by where they stand, the form in the order of a phone call, one referral. */
@Controller
@RequestMapping("/referrals")
class ReferralPages {

    private static final Limit LISTED = Limit.of(200);

    private final Patients patients;
    private final Referrals referrals;
    private final Intake intake;
    private final MethodSuitability suitability;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final MessageSource messages;

    ReferralPages(
            Patients patients,
            Referrals referrals,
            Intake intake,
            MethodSuitability suitability,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events,
            MessageSource messages) {
        this.patients = patients;
        this.referrals = referrals;
        this.intake = intake;
        this.suitability = suitability;
        this.current = current;
        this.clock = clock;
        this.events = events;
        this.messages = messages;
    }

    @GetMapping
    String list(@RequestParam(defaultValue = "ready_to_book") String status, Model model) {
        ReferralStatus shown = ReferralStatus.of(status).orElseThrow(() -> unknownStatus(status));
        List<Referral> listed = referrals.standingAt(current.id(), shown.code(), LISTED);
        model.addAttribute("shown", shown);
        model.addAttribute("counts", counts());
        model.addAttribute("referrals", listed);
        model.addAttribute("patients", patientsOf(listed));
        return "referral/referrals";
    }

    @GetMapping("/new")
    String blank(@RequestParam Optional<UUID> patient, Model model) {
        ReferralForm form = patient.map(this::patient).map(ReferralForm::about).orElseGet(ReferralForm::new);
        form.put("receivedOn", clock.today(current.id()));
        form.put("priority", Priority.ROUTINE);
        return form(model, form, new ReferralReading(form, clock.today(current.id())), "/referrals");
    }

    @PostMapping
    String takeIn(
            @RequestParam MultiValueMap<String, String> given,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        ReferralForm form = ReferralForm.typed(given);
        ReferralReading reading = new ReferralReading(form, clock.today(current.id()));
        var number = reading.localNumber();
        var person = reading.person();
        Optional<ReferralDetails> said = reading.referral();
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return form(model, form, reading, "/referrals");
        }
        Referral referral = intake.takeIn(current.id(), number.orElse(null), person, said.get());
        notice(redirect, "referral.notice.takenIn");
        return "redirect:/referrals/" + referral.id();
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, Model model) {
        Referral referral = referral(id);
        model.addAttribute("referral", referral);
        model.addAttribute("said", referral.details());
        model.addAttribute("patient", patient(referral.patientId()));
        model.addAttribute("suitability", suitability.judge(referral.details(), clock.today(current.id())));
        events.publishEvent(new Audited.Entry(
                current.id(), "patient-seen", "patient", referral.patientId().toString(), "referral"));
        return "referral/referral";
    }

    @GetMapping("/{id}/edit")
    String edit(@PathVariable UUID id, Model model) {
        Referral referral = referral(id);
        ReferralForm form = ReferralForm.showing(referral, patient(referral.patientId()));
        return form(model, form, new ReferralReading(form, clock.today(current.id())), "/referrals/" + id);
    }

    @PostMapping("/{id}")
    String amend(
            @PathVariable UUID id,
            @RequestParam MultiValueMap<String, String> given,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = referral(id);
        ReferralForm form = ReferralForm.typed(given);
        ReferralReading reading = new ReferralReading(form, clock.today(current.id()));
        var person = reading.person();
        Optional<ReferralDetails> said = reading.referral();
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return form(model, form, reading, "/referrals/" + id);
        }
        intake.amend(referral, person, said.get());
        notice(redirect, "referral.notice.amended");
        return "redirect:/referrals/" + id;
    }

    @PostMapping("/{id}/waiting")
    String wait(@PathVariable UUID id, RedirectAttributes redirect) {
        return moveOn(id, ReferralStatus.WAITING, redirect);
    }

    @PostMapping("/{id}/closed")
    String close(@PathVariable UUID id, RedirectAttributes redirect) {
        return moveOn(id, ReferralStatus.CLOSED, redirect);
    }

    /** Only a clinician clears a red flag; the receptionist never decides. */
    @PostMapping("/{id}/ready")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String triaged(@PathVariable UUID id, RedirectAttributes redirect) {
        return moveOn(id, ReferralStatus.READY_TO_BOOK, redirect);
    }

    private String moveOn(UUID id, ReferralStatus to, RedirectAttributes redirect) {
        if (!intake.moveOn(referral(id), to)) {
            throw Refused.conflict("referral-booked", "This referral is booked: move or cancel its appointment.");
        }
        notice(redirect, "referral.notice." + to.code());
        return "redirect:/referrals/" + id;
    }

    private String form(Model model, ReferralForm form, ReferralReading reading, String action) {
        model.addAttribute("form", form);
        model.addAttribute("problems", reading.byField());
        model.addAttribute("action", action);
        return "referral/form";
    }

    private Referral referral(UUID id) {
        return referrals.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("referral"));
    }

    private Patient patient(UUID id) {
        return patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
    }

    private Map<UUID, Patient> patientsOf(Collection<Referral> listed) {
        return patients
                .findByClinicIdAndIdIn(
                        current.id(), listed.stream().map(Referral::patientId).collect(Collectors.toSet()))
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
    }

    private Map<ReferralStatus, Long> counts() {
        Map<String, Long> found = referrals.counts(current.id()).stream()
                .collect(Collectors.toMap(Referrals.StatusCount::getStatus, Referrals.StatusCount::getCount));
        Map<ReferralStatus, Long> counts = new LinkedHashMap<>();
        for (ReferralStatus status : ReferralStatus.values()) {
            counts.put(status, found.getOrDefault(status.code(), 0L));
        }
        return counts;
    }

    private void notice(RedirectAttributes redirect, String key) {
        redirect.addFlashAttribute("notice", messages.getMessage(key, null, LocaleContextHolder.getLocale()));
    }

    private static Refused unknownStatus(String given) {
        var problem = new org.earslot.page.Problem(
                "status", given, "one of " + String.join(", ", Word.codes(ReferralStatus.values())), "choose one");
        return Refused.invalid(List.of(problem));
    }
}
