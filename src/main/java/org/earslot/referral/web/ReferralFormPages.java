package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;
import org.earslot.patient.Duplicates;
import org.earslot.patient.Duplicates.Known;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.Drafting;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.NewReferral;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralDraft;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.TakenIn;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The form of a referral: begun, taken in, and changed. */
@Controller
@RequestMapping("/referrals")
class ReferralFormPages {

    private final ReferralFormPage form;
    private final ReferralPage page;
    private final ClinicReferrals referrals;
    private final Intake intake;
    private final Duplicates duplicates;
    private final Drafting drafting;
    private final Edits edits;

    ReferralFormPages(
            ReferralFormPage form,
            ReferralPage page,
            ClinicReferrals referrals,
            Intake intake,
            Duplicates duplicates,
            Drafting drafting,
            Edits edits) {
        this.form = form;
        this.page = page;
        this.referrals = referrals;
        this.intake = intake;
        this.duplicates = duplicates;
        this.drafting = drafting;
        this.edits = edits;
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
        Optional<Referral> saved = referrals.savedAs(key);
        if (saved.isPresent()) {
            return page.done(saved.get().id(), "referral.notice.savedBefore", redirect);
        }
        Optional<ReferralDraft> draft = drafting.find(referrals.clinicId(), key);
        draft.ifPresent(referrals::viewed);
        model.addAttribute("methodAsLastTime", draft.isEmpty() && patient.isPresent());
        FormFields filled = draft.map(one -> new FormFields(one.typed()))
                .orElseGet(() -> form.begun(patient.map(referrals::patient)));
        referrals.viewed("new referral", patient.stream().toList());
        filled.put("formKey", key);
        return form.show(model, filled, "/referrals");
    }

    /** A form for a patient of whom only the visit log knows the number, which stands in no address. */
    @PostMapping("/new")
    String numbered(@RequestParam(defaultValue = "") String number, Model model) {
        Optional<Patient> known = referrals.known(number.strip());
        FormFields filled = form.begun(known);
        if (known.isEmpty()) {
            filled.put("localNumber", number.strip());
        }
        referrals.viewed("new referral", known.stream().map(Patient::id).toList());
        filled.put("formKey", UUID.randomUUID());
        return form.show(model, filled, "/referrals");
    }

    @PostMapping
    String takeIn(Form sent, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        FormFields filled = sent.fields();
        if (!filled.get("newNumber").isEmpty()) {
            filled.put("localNumber", "");
        }
        ReferralReading reading = new ReferralReading(sent);
        String samePerson = filled.get("samePerson");
        String number = samePerson.isEmpty() ? reading.localNumber().orElse(null) : samePerson;
        PatientDetails person = reading.person();
        reading.identity(person, !isNew(number));
        Optional<UUID> clinician = reading.clinician();
        Optional<UUID> key = reading.formKey();
        Optional<ReferralDetails> said = reading.referral(referrals.today());
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return form.show(model, reading, "/referrals");
        }
        boolean saved = key.flatMap(referrals::savedAs).isPresent();
        if (!saved && filled.get("another").isEmpty() && isNew(number)) {
            List<Known> known = duplicates.of(referrals.clinicId(), person);
            if (!known.isEmpty()) {
                referrals.viewed(
                        "may be the same person",
                        known.stream().map(one -> one.patient().id()).toList());
                return asked(response, model, reading, "known", known);
            }
        }
        TakenIn taken = intake.takeIn(
                referrals.clinicId(),
                new NewReferral(
                        number,
                        person,
                        said.get(),
                        !samePerson.isEmpty(),
                        "yes".equals(filled.get("thoughDeceased")),
                        key.orElse(null)),
                referrals.taker(clinician.orElse(null)));
        if (taken instanceof TakenIn.PatientDiffers differs) {
            referrals.viewed("may be another person", List.of(differs.known().id()));
            return asked(response, model, reading, "differs", differs.known());
        }
        if (taken instanceof TakenIn.PatientDeceased deceased) {
            referrals.viewed("recorded as deceased", List.of(deceased.known().id()));
            return asked(response, model, reading, "deceased", deceased.known());
        }
        key.ifPresent(draft -> drafting.drop(referrals.clinicId(), draft));
        return page.done(
                ((TakenIn.Done) taken).referral().id(),
                saved ? "referral.notice.savedBefore" : "referral.notice.takenIn",
                filled.get("then"),
                redirect);
    }

    /** The form once more, with a question that the person has to answer first. */
    private String asked(
            HttpServletResponse response, Model model, ReferralReading reading, String question, Object about) {
        response.setStatus(HttpServletResponse.SC_CONFLICT);
        model.addAttribute(question, about);
        return form.show(model, reading, "/referrals");
    }

    @GetMapping("/{id}/edit")
    String edit(@PathVariable UUID id, Model model) {
        Referral referral = referrals.referral(id);
        referrals.viewed("referral form", List.of(referral.patientId()));
        model.addAttribute("booked", referral.status() == ReferralStatus.BOOKED);
        return form.show(model, form.stored(referral), "/referrals/" + id);
    }

    @PostMapping("/{id}")
    String amend(
            @PathVariable UUID id, Form sent, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        model.addAttribute("booked", referral.status() == ReferralStatus.BOOKED);
        FormFields filled = sent.fields();
        filled.put("localNumber", referrals.patient(referral.patientId()).localNumber());
        ReferralReading reading = new ReferralReading(sent);
        PatientDetails person = reading.person();
        reading.identity(person, false);
        Optional<UUID> clinician = reading.clinician();
        Optional<ReferralDetails> said = reading.referral(referrals.today());
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            referrals.viewed("referral form", List.of(referral.patientId()));
            return form.show(model, reading, "/referrals/" + id);
        }
        Taker taker = referrals.taker(clinician.orElse(null));
        boolean saved = edits.save(filled.get(FormVersion.FIELD), () -> referrals.version(id), () -> {
                    intake.amend(referral, person, said.get(), taker);
                    return true;
                })
                .isPresent();
        if (!saved) {
            return changed(id, reading, model, redirect, response);
        }
        return page.done(id, "referral.notice.amended", filled.get("then"), redirect);
    }

    /** Somebody else has changed it: the form once more, with what was typed and what is stored now. */
    private String changed(
            UUID id, ReferralReading reading, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral now = referrals.referral(id);
        List<ChangedField> changes = form.takeOver(reading.fields(), now);
        if (changes.isEmpty()) {
            return page.done(id, "referral.notice.amended", redirect);
        }
        response.setStatus(HttpServletResponse.SC_CONFLICT);
        referrals.viewed("referral form", List.of(now.patientId()));
        model.addAttribute("changes", changes);
        return form.show(model, reading, "/referrals/" + id);
    }

    private boolean isNew(@Nullable String number) {
        return referrals.known(number).isEmpty();
    }
}
