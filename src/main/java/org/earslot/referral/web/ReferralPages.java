package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.referral.Drafting;
import org.earslot.referral.Duplicates;
import org.earslot.referral.Duplicates.Known;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.StaysPut;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagCases;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralDrafts;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.data.domain.Limit;
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
    private final Duplicates duplicates;
    private final Drafting drafting;
    private final ReferralDrafts drafts;
    private final RedFlagCases cases;
    private final ReferralPage page;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final MessageSource messages;

    ReferralPages(
            Patients patients,
            Referrals referrals,
            Intake intake,
            Duplicates duplicates,
            Drafting drafting,
            ReferralDrafts drafts,
            RedFlagCases cases,
            ReferralPage page,
            CurrentClinic current,
            ClinicClock clock,
            MessageSource messages) {
        this.patients = patients;
        this.referrals = referrals;
        this.intake = intake;
        this.duplicates = duplicates;
        this.drafting = drafting;
        this.drafts = drafts;
        this.cases = cases;
        this.page = page;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping
    String list(@RequestParam(defaultValue = "ready_to_book") String status, Model model) {
        ReferralStatus shown = ReferralStatus.of(status).orElseThrow(() -> unknownStatus(status));
        List<Referral> listed = referrals.standingAt(current.id(), shown.code(), LISTED);
        model.addAttribute("shown", shown);
        model.addAttribute("counts", counts());
        model.addAttribute("referrals", listed);
        List<RedFlagCase> open = cases.findByClinicIdAndSettledAtIsNullOrderByRaisedAt(current.id());
        Set<UUID> flagged = open.stream().map(RedFlagCase::referralId).collect(Collectors.toSet());
        Map<UUID, Referral> flaggedById = referrals.findByClinicIdAndIdIn(current.id(), flagged).stream()
                .collect(Collectors.toMap(Referral::id, Function.identity()));
        List<Referral> named = new ArrayList<>(listed);
        named.addAll(flaggedById.values());
        model.addAttribute("drafts", drafts.findByClinicIdOrderBySavedAtDesc(current.id()));
        model.addAttribute("openCases", open);
        model.addAttribute("flagged", flaggedById);
        model.addAttribute("clinicianNames", page.clinicianNames());
        model.addAttribute("zone", clock.zone(current.id()));
        Map<UUID, Patient> shownPatients = patientsOf(named);
        model.addAttribute("patients", shownPatients);
        page.viewed("referrals " + shown.code(), shownPatients.keySet());
        return "referral/referrals";
    }

    @GetMapping("/new")
    String blank(@RequestParam Optional<UUID> patient, @RequestParam(defaultValue = "") String number, Model model) {
        ReferralForm form = patient.map(page::patient).map(ReferralForm::about).orElseGet(ReferralForm::new);
        if (patient.isEmpty() && !number.isBlank()) {
            form.put("localNumber", number.strip());
        }
        page.viewed("new referral", patient.stream().toList());
        form.put("receivedOn", clock.today(current.id()));
        form.put("priority", Priority.ROUTINE);
        return page.form(model, form, new ReferralReading(form, clock.today(current.id())), "/referrals");
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
        Optional<UUID> clinician = reading.clinician();
        Optional<ReferralDetails> said = reading.referral();
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.form(model, form, reading, "/referrals");
        }
        String samePerson = form.get("samePerson");
        if (samePerson.isEmpty() && form.get("another").isEmpty() && isNew(number.orElse(null))) {
            List<Known> known = duplicates.of(current.id(), person);
            if (!known.isEmpty()) {
                response.setStatus(HttpServletResponse.SC_CONFLICT);
                model.addAttribute("known", known);
                page.viewed(
                        "may be the same person",
                        known.stream().map(one -> one.patient().id()).toList());
                return page.form(model, form, reading, "/referrals");
            }
        }
        Referral referral = intake.takeIn(
                current.id(),
                samePerson.isEmpty() ? number.orElse(null) : samePerson,
                person,
                said.get(),
                new Taker(current.who(), clinician.orElse(null)));
        new Reading().id("draft", form.get("draft")).ifPresent(draft -> drafting.drop(current.id(), draft));
        notice(redirect, "referral.notice.takenIn");
        return "redirect:/referrals/" + referral.id();
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, @RequestParam Map<String, String> asked, Model model) {
        return page.show(model, id, asked, Map.of());
    }

    @GetMapping("/{id}/edit")
    String edit(@PathVariable UUID id, Model model) {
        Referral referral = page.referral(id);
        page.viewed("referral form", List.of(referral.patientId()));
        ReferralForm form = ReferralForm.showing(referral, page.patient(referral.patientId()));
        return page.form(model, form, new ReferralReading(form, clock.today(current.id())), "/referrals/" + id);
    }

    @PostMapping("/{id}")
    String amend(
            @PathVariable UUID id,
            @RequestParam MultiValueMap<String, String> given,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = page.referral(id);
        ReferralForm form = ReferralForm.typed(given);
        ReferralReading reading = new ReferralReading(form, clock.today(current.id()));
        var person = reading.person();
        Optional<UUID> clinician = reading.clinician();
        Optional<ReferralDetails> said = reading.referral();
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.form(model, form, reading, "/referrals/" + id);
        }
        intake.amend(referral, person, said.get(), new Taker(current.who(), clinician.orElse(null)));
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

    private String moveOn(UUID id, ReferralStatus to, RedirectAttributes redirect) {
        Optional<StaysPut> refusal = intake.moveOn(page.referral(id), to);
        if (refusal.isPresent()) {
            throw switch (refusal.get()) {
                case BOOKED ->
                    Refused.conflict("referral-booked", "This referral is booked: move or cancel its appointment.");
                case RED_FLAG ->
                    Refused.conflict(
                            "red-flag-open",
                            "A red flag is open: a clinician says on the referral's page what follows.");
                case RED_FLAGS_TO_ASK ->
                    Refused.conflict("red-flags-not-asked", "Red flags are still to be asked: ask them first.");
            };
        }
        notice(redirect, "referral.notice." + to.code());
        return "redirect:/referrals/" + id;
    }

    private boolean isNew(@Nullable String number) {
        return number == null || patients.known(current.id(), number).isEmpty();
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
