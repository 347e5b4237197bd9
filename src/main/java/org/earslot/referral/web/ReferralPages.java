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
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;
import org.earslot.page.Forms;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.patient.Duplicates;
import org.earslot.patient.Duplicates.Known;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Drafting;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.NewReferral;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagCases;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralDraft;
import org.earslot.referral.ReferralDrafts;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.referral.StaysPut;
import org.earslot.referral.TakenIn;
import org.jspecify.annotations.Nullable;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
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
    private final Edits edits;
    private final Drafting drafting;
    private final ReferralDrafts drafts;
    private final RedFlagCases cases;
    private final ReferralPage page;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Forms forms;
    private final Messages messages;

    ReferralPages(
            Patients patients,
            Referrals referrals,
            Intake intake,
            Duplicates duplicates,
            Edits edits,
            Drafting drafting,
            ReferralDrafts drafts,
            RedFlagCases cases,
            ReferralPage page,
            CurrentClinic current,
            ClinicClock clock,
            Forms forms,
            Messages messages) {
        this.patients = patients;
        this.referrals = referrals;
        this.intake = intake;
        this.duplicates = duplicates;
        this.edits = edits;
        this.drafting = drafting;
        this.drafts = drafts;
        this.cases = cases;
        this.page = page;
        this.current = current;
        this.clock = clock;
        this.forms = forms;
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

    /** Begins a form under a key of its own, so that "back" leads to the same form, or to what it was saved as. */
    @GetMapping(path = "/new", params = "!form")
    String begin(@RequestParam Optional<UUID> patient, RedirectAttributes redirect) {
        redirect.addAttribute("form", UUID.randomUUID());
        patient.ifPresent(id -> redirect.addAttribute("patient", id));
        return "redirect:/referrals/new";
    }

    /** The form as it was kept under that key, else a blank one. */
    @GetMapping(path = "/new", params = "form")
    String blank(
            @RequestParam("form") UUID key,
            @RequestParam Optional<UUID> patient,
            Model model,
            RedirectAttributes redirect) {
        Optional<Referral> saved = referrals.findByClinicIdAndFormKey(current.id(), key);
        if (saved.isPresent()) {
            notice(redirect, "referral.notice.savedBefore");
            return "redirect:/referrals/" + saved.get().id();
        }
        Optional<ReferralDraft> draft = drafts.findByClinicIdAndId(current.id(), key);
        draft.ifPresent(page::viewed);
        FormFields form =
                draft.map(one -> new FormFields(one.typed())).orElseGet(() -> begun(patient.map(page::patient)));
        page.viewed("new referral", patient.stream().toList());
        form.put("formKey", key);
        return page.form(model, new ReferralReading(forms.of(form)), "/referrals");
    }

    /** A form for a patient of whom only the visit log knows the number, which stands in no address. */
    @PostMapping("/new")
    String numbered(@RequestParam(defaultValue = "") String number, Model model) {
        Optional<Patient> known = patients.known(current.id(), number.strip());
        FormFields form = begun(known);
        if (known.isEmpty()) {
            form.put("localNumber", number.strip());
        }
        page.viewed("new referral", known.stream().map(Patient::id).toList());
        form.put("formKey", UUID.randomUUID());
        return page.form(model, new ReferralReading(forms.of(form)), "/referrals");
    }

    /** Cautions recorded earlier are ticked, to be confirmed. */
    private FormFields begun(Optional<Patient> patient) {
        FormFields form = patient.map(one -> ReferralForm.about(one, page.earlier(one.id())))
                .orElseGet(FormFields::new);
        form.put("receivedOn", clock.today(current.id()));
        form.put("priority", Priority.ROUTINE);
        return form;
    }

    @PostMapping
    String takeIn(Form sent, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        FormFields form = sent.fields();
        if (!form.get("newNumber").isEmpty()) {
            form.put("localNumber", "");
        }
        ReferralReading reading = new ReferralReading(sent);
        String samePerson = form.get("samePerson");
        String number = samePerson.isEmpty() ? reading.localNumber().orElse(null) : samePerson;
        PatientDetails person = reading.person();
        reading.identity(person, !isNew(number));
        Optional<UUID> clinician = reading.clinician();
        Optional<UUID> key = reading.formKey();
        Optional<ReferralDetails> said = reading.referral(clock.today(current.id()));
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.form(model, reading, "/referrals");
        }
        boolean saved = key.flatMap(one -> referrals.findByClinicIdAndFormKey(current.id(), one))
                .isPresent();
        if (!saved && form.get("another").isEmpty() && isNew(number)) {
            List<Known> known = duplicates.of(current.id(), person);
            if (!known.isEmpty()) {
                page.viewed(
                        "may be the same person",
                        known.stream().map(one -> one.patient().id()).toList());
                return asked(response, model, reading, "known", known);
            }
        }
        TakenIn taken = intake.takeIn(
                current.id(),
                new NewReferral(
                        number,
                        person,
                        said.get(),
                        !samePerson.isEmpty(),
                        "yes".equals(form.get("thoughDeceased")),
                        key.orElse(null)),
                new Taker(current.who(), clinician.orElse(null)));
        if (taken instanceof TakenIn.PatientDiffers differs) {
            page.viewed("may be another person", List.of(differs.known().id()));
            return asked(response, model, reading, "differs", differs.known());
        }
        if (taken instanceof TakenIn.PatientDeceased deceased) {
            page.viewed("recorded as deceased", List.of(deceased.known().id()));
            return asked(response, model, reading, "deceased", deceased.known());
        }
        key.ifPresent(draft -> drafting.drop(current.id(), draft));
        notice(redirect, saved ? "referral.notice.savedBefore" : "referral.notice.takenIn");
        return "redirect:/referrals/" + ((TakenIn.Done) taken).referral().id();
    }

    /** The form once more, with a question that the person has to answer first. */
    private String asked(
            HttpServletResponse response, Model model, ReferralReading reading, String question, Object about) {
        response.setStatus(HttpServletResponse.SC_CONFLICT);
        model.addAttribute(question, about);
        return page.form(model, reading, "/referrals");
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, @RequestParam Map<String, String> asked, Model model) {
        return page.show(model, id, asked, Map.of());
    }

    @GetMapping("/{id}/edit")
    String edit(@PathVariable UUID id, Model model) {
        Referral referral = page.referral(id);
        page.viewed("referral form", List.of(referral.patientId()));
        FormFields form =
                ReferralForm.showing(referral, page.patient(referral.patientId()), page.earlier(referral.patientId()));
        return page.form(model, new ReferralReading(forms.of(form)), "/referrals/" + id);
    }

    @PostMapping("/{id}")
    String amend(
            @PathVariable UUID id, Form sent, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = page.referral(id);
        FormFields form = sent.fields();
        form.put("localNumber", page.patient(referral.patientId()).localNumber());
        ReferralReading reading = new ReferralReading(sent);
        PatientDetails person = reading.person();
        reading.identity(person, false);
        Optional<UUID> clinician = reading.clinician();
        Optional<ReferralDetails> said = reading.referral(clock.today(current.id()));
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            page.viewed("referral form", List.of(referral.patientId()));
            return page.form(model, reading, "/referrals/" + id);
        }
        Taker taker = new Taker(current.who(), clinician.orElse(null));
        boolean saved = edits.save(form.get(FormVersion.FIELD), () -> page.version(id), () -> {
                    intake.amend(referral, person, said.get(), taker);
                    return true;
                })
                .isPresent();
        if (!saved) {
            return changed(id, reading, model, redirect, response);
        }
        notice(redirect, "referral.notice.amended");
        return "redirect:/referrals/" + id;
    }

    /** Somebody else has changed it: the form once more, with what was typed and what is stored now. */
    private String changed(
            UUID id, ReferralReading reading, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral now = page.referral(id);
        List<ChangedField> changes = ReferralChanges.takeOver(
                reading.fields(),
                ReferralForm.showing(now, page.patient(now.patientId()), List.of()),
                page.fieldNames());
        if (changes.isEmpty()) {
            notice(redirect, "referral.notice.amended");
            return "redirect:/referrals/" + id;
        }
        response.setStatus(HttpServletResponse.SC_CONFLICT);
        page.viewed("referral form", List.of(now.patientId()));
        model.addAttribute("changes", changes);
        return page.form(model, reading, "/referrals/" + id);
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
            throw Refused.of(List.of(refusal.get()), messages);
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
        redirect.addFlashAttribute("notice", messages.say(key));
    }

    private static Refused unknownStatus(String given) {
        var problem = new org.earslot.page.Problem(
                "status", given, "one of " + String.join(", ", Word.codes(ReferralStatus.values())), "choose one");
        return Refused.invalid(List.of(problem));
    }
}
