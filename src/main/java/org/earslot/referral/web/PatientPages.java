package org.earslot.referral.web;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.PatientCautions;
import org.earslot.caution.PatientCautions.NotCorrected;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Form;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Duplicates;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientMerge;
import org.earslot.patient.PatientMerges;
import org.earslot.patient.Patients;
import org.earslot.patient.web.CorrespondencePages;
import org.earslot.referral.Merging;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One patient with referrals, and what is done with the record. */
@Controller
@RequestMapping("/patients")
class PatientPages {

    private final Patients patients;
    private final Referrals referrals;
    private final Duplicates duplicates;
    private final Merging merging;
    private final PatientCautions cautions;
    private final PatientMerges merges;
    private final ReferralAppointments appointments;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final Messages messages;

    PatientPages(
            Patients patients,
            Referrals referrals,
            Duplicates duplicates,
            Merging merging,
            PatientCautions cautions,
            PatientMerges merges,
            ReferralAppointments appointments,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events,
            Messages messages) {
        this.patients = patients;
        this.referrals = referrals;
        this.duplicates = duplicates;
        this.merging = merging;
        this.cautions = cautions;
        this.merges = merges;
        this.appointments = appointments;
        this.current = current;
        this.clock = clock;
        this.events = events;
        this.messages = messages;
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, Model model) {
        Patient patient = patient(id);
        model.addAttribute("patient", patient);
        model.addAttribute("titleOf", patient.displayName());
        model.addAttribute("person", patient.details());
        model.addAttribute("correspondences", Correspondence.values());
        model.addAttribute("correspondenceVersion", CorrespondencePages.version(patient));
        model.addAttribute(
                "age", patient.details().ageOn(clock.today(current.id())).orElse(null));
        model.addAttribute("referrals", referrals.ofPatient(current.id(), id));
        List<PatientMerge> standing = merges.standing(current.id(), id);
        model.addAttribute("merges", standing);
        model.addAttribute("mergedNames", names(standing));
        List<Duplicates.Known> known = patient.merged() ? List.of() : duplicates.of(patient);
        model.addAttribute("known", known);
        model.addAttribute("cautions", cautions.inForce(current.id(), id, clock.today(current.id())));
        model.addAttribute(
                "unknown",
                cautions.summary(current.id(), id, CautionAnswers.NOT_ASKED, clock.today(current.id()))
                        .unknown());
        model.addAttribute("corrected", cautions.corrected(current.id(), id));
        model.addAttribute("toCancel", patient.deceased() ? appointments.toCome(current.id(), id) : List.of());
        model.addAttribute("zone", clock.zone(current.id()));
        viewed("patient", Stream.of(id));
        viewed("may be the same person", known.stream().map(one -> one.patient().id()));
        viewed(
                "merged records",
                standing.stream()
                        .flatMap(merge -> Stream.of(merge.keptId(), merge.goneId()))
                        .filter(other -> !other.equals(id)));
        return "referral/patient";
    }

    /** Both records side by side, before they are made one. */
    @GetMapping("/{id}/merge")
    String compare(@PathVariable UUID id, @RequestParam UUID with, Model model) {
        model.addAttribute("kept", patient(id));
        model.addAttribute("gone", patient(with));
        viewed("merge", Stream.of(id, with));
        return "referral/merge";
    }

    @PostMapping("/{id}/merge")
    String merge(@PathVariable UUID id, @RequestParam UUID with, RedirectAttributes redirect) {
        patient(id);
        patient(with);
        if (merging.merge(current.id(), id, with, current.who()).isEmpty()) {
            throw Refused.conflict("not-to-merge", messages.say("referral.refused.notToMerge"));
        }
        return done("referral.merge.done", id, redirect);
    }

    @PostMapping("/{id}/merge/{merge}/undo")
    String part(@PathVariable UUID id, @PathVariable UUID merge, RedirectAttributes redirect) {
        patient(id);
        if (!merging.undo(current.id(), merge, current.who())) {
            throw Refused.conflict("not-to-part", messages.say("referral.refused.notToPart"));
        }
        return done("referral.merge.undone", id, redirect);
    }

    private void viewed(String where, Stream<UUID> shown) {
        List<UUID> ids = shown.toList();
        if (!ids.isEmpty()) {
            events.publishEvent(Audited.viewed(current.id(), where, ids));
        }
    }

    /** A practitioner says that a caution recorded of the patient was wrong, and why. */
    @PostMapping("/{id}/cautions/{caution}/correct")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String correct(@PathVariable UUID id, @PathVariable UUID caution, Form form, RedirectAttributes redirect) {
        patient(id);
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
        patient(id);
        ReasonForm why = form.read(ReasonForm.class);
        CautionAnswers seen = Optional.ofNullable(referral)
                .flatMap(one -> referrals.findByClinicIdAndId(current.id(), one))
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

    private static void refuse(Optional<NotCorrected> refusal) {
        if (refusal.isPresent()) {
            throw refusal.get() == NotCorrected.NO_SUCH_CAUTION
                    ? Refused.notFound("caution")
                    : Refused.noPractitioner();
        }
    }

    private String done(String key, UUID id, RedirectAttributes redirect) {
        redirect.addFlashAttribute("notice", messages.say(key));
        return "redirect:/patients/" + id;
    }

    private Patient patient(UUID id) {
        return patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
    }

    private Map<UUID, String> names(List<PatientMerge> standing) {
        List<UUID> ids = standing.stream()
                .flatMap(merge -> Stream.of(merge.keptId(), merge.goneId()))
                .distinct()
                .toList();
        return patients.findByClinicIdAndIdIn(current.id(), ids).stream()
                .collect(Collectors.toMap(
                        Patient::id, patient -> patient.displayName() + " (" + patient.localNumber() + ")"));
    }
}
