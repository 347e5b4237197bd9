package org.earslot.referral.web;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.CautionRefusal;
import org.earslot.caution.PatientCautions;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Form;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What a practitioner says of cautions recorded of a patient. */
@Controller
@RequestMapping("/patients")
class PatientCautionPages {

    private final ClinicReferrals referrals;
    private final Referrals stored;
    private final PatientCautions cautions;
    private final CurrentClinic current;
    private final Messages messages;

    PatientCautionPages(
            ClinicReferrals referrals,
            Referrals stored,
            PatientCautions cautions,
            CurrentClinic current,
            Messages messages) {
        this.referrals = referrals;
        this.stored = stored;
        this.cautions = cautions;
        this.current = current;
        this.messages = messages;
    }

    /** A practitioner says that a caution recorded of the patient was wrong, and why. */
    @PostMapping("/{id}/cautions/{caution}/correct")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String correct(@PathVariable UUID id, @PathVariable UUID caution, Form form, RedirectAttributes redirect) {
        referrals.patient(id);
        ReasonForm why = form.read(ReasonForm.class);
        UUID practitioner = practitioner();
        form.refuseUnlessClean();
        refuse(cautions.correct(current.id(), id, caution, practitioner, why.reason(), current.who()));
        return done("caution.corrected", id, redirect);
    }

    /** A practitioner has asked the patient what cautions stored in unknown codes are about. */
    @PostMapping("/{id}/cautions/clarify")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String clarify(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID referral,
            Form form,
            RedirectAttributes redirect) {
        referrals.patient(id);
        ReasonForm why = form.read(ReasonForm.class);
        CautionAnswers seen = Optional.ofNullable(referral)
                .flatMap(one -> stored.findByClinicIdAndId(current.id(), one))
                .filter(one -> one.patientId().equals(id))
                .map(one -> one.details().cautions())
                .orElse(CautionAnswers.NOT_ASKED);
        form.refuseUnlessClean();
        refuse(cautions.clarify(current.id(), id, seen, practitioner(), why.reason(), current.who()));
        return done("caution.clarified", id, redirect);
    }

    private UUID practitioner() {
        return current.practitionerId().orElseThrow(Refused::noPractitioner);
    }

    private void refuse(Optional<CautionRefusal> refusal) {
        refusal.ifPresent(reason -> {
            throw Refused.of(List.of(reason));
        });
    }

    private String done(String key, UUID id, RedirectAttributes redirect) {
        redirect.addFlashAttribute("notice", messages.say(key));
        return "redirect:/patients/" + id;
    }
}
