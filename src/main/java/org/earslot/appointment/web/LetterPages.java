package org.earslot.appointment.web;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Predicate;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.LetterKind.About;
import org.earslot.aftercare.Letters;
import org.earslot.aftercare.web.LetterFields;
import org.earslot.aftercare.web.LetterFrame;
import org.earslot.booking.Appointment;
import org.earslot.clinic.Audited;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Refused;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** Letters to print. */
@Controller
class LetterPages {

    private final Letters letters;
    private final LetterFields fields;
    private final AppointmentPage page;
    private final Referrals referrals;
    private final Patients patients;
    private final CurrentClinic current;
    private final ApplicationEventPublisher events;

    LetterPages(
            Letters letters,
            LetterFields fields,
            AppointmentPage page,
            Referrals referrals,
            Patients patients,
            CurrentClinic current,
            ApplicationEventPublisher events) {
        this.letters = letters;
        this.fields = fields;
        this.page = page;
        this.referrals = referrals;
        this.patients = patients;
        this.current = current;
        this.events = events;
    }

    @GetMapping("/appointments/{id}/letters/{kind}")
    String ofAppointment(@PathVariable UUID id, @PathVariable("kind") String code, Model model) {
        Appointment appointment = page.appointment(id);
        LetterKind kind = kind(code, LetterKind::ofAppointment);
        Map<String, String> known = fields.of(appointment, kind);
        boolean unfinished = kind.about() == About.VISIT
                && known.getOrDefault("findings", "").isBlank();
        model.addAttribute("draft", unfinished);
        model.addAttribute("back", "/appointments/" + id);
        return print(model, kind, known, appointment.patientId());
    }

    @GetMapping("/referrals/{id}/letters/{kind}")
    String ofReferral(@PathVariable UUID id, @PathVariable("kind") String code, Model model) {
        Referral referral =
                referrals.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("referral"));
        LetterKind kind = kind(code, one -> one.about() == About.REFERRAL);
        model.addAttribute("back", "/referrals/" + id);
        return print(model, kind, fields.of(referral, kind), Optional.of(referral.patientId()));
    }

    @GetMapping("/patients/{id}/letters/{kind}")
    String ofPatient(@PathVariable UUID id, @PathVariable("kind") String code, Model model) {
        Patient patient = patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
        LetterKind kind = kind(code, one -> one.about() == About.PATIENT);
        model.addAttribute("back", "/patients/" + id);
        return print(model, kind, fields.of(patient), Optional.of(id));
    }

    /** Shows a letter to print, unless the patient is not to be written to. */
    private String print(Model model, LetterKind kind, Map<String, String> known, Optional<UUID> patientId) {
        patientId
                .flatMap(id -> patients.findByClinicIdAndId(current.id(), id))
                .map(Patient::correspondence)
                .filter(correspondence -> !mayGoOut(kind, correspondence))
                .ifPresent(correspondence -> {
                    throw Refused.conflict("no-letter", "aftercare.letter.refused." + correspondence.code());
                });
        String body = letters.body(current.id(), kind);
        List<String> chosen = letters.chosen(body);
        model.addAttribute("kind", kind);
        model.addAttribute("frame", LetterFrame.of(kind, known));
        model.addAttribute("paragraphs", letters.filled(body, known));
        model.addAttribute(
                "empty",
                chosen.stream()
                        .filter(field -> known.getOrDefault(field, "").isBlank())
                        .toList());
        patientId.ifPresent(patient -> events.publishEvent(new Audited.Entry(
                current.id(),
                "letter-made",
                "patient",
                patient.toString(),
                kind.code() + ": " + String.join(", ", chosen))));
        return "aftercare/letter";
    }

    private static boolean mayGoOut(LetterKind kind, Correspondence correspondence) {
        return !kind.toPatient() || (kind == LetterKind.RECALL ? correspondence.recalls() : correspondence.letters());
    }

    private static LetterKind kind(String code, Predicate<LetterKind> fits) {
        return LetterKind.of(code).filter(fits).orElseThrow(() -> Refused.notFound("letter"));
    }
}
