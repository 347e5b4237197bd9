package org.earslot.account.web;

import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.earslot.account.AuditEntry;
import org.earslot.account.AuditTrail;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.PatientNames;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;

/** Who viewed or changed the record of one patient. */
@Controller
class PatientTrailPage {

    private static final int MOST = 2000;

    private final AuditTrail trail;
    private final AuditLines lines;
    private final PatientNames names;
    private final CurrentClinic clinic;
    private final Messages messages;

    PatientTrailPage(AuditTrail trail, AuditLines lines, PatientNames names, CurrentClinic clinic, Messages messages) {
        this.trail = trail;
        this.lines = lines;
        this.names = names;
        this.clinic = clinic;
        this.messages = messages;
    }

    @GetMapping("/audit/patients/{id}")
    String show(@PathVariable UUID id, @ModelAttribute AuditForm form, Model model) {
        Set<UUID> records = names.samePerson(clinic.id(), id);
        if (records.isEmpty()) {
            throw Refused.notFound("patient");
        }
        List<AuditEntry> found = trail.about(clinic.id(), records, form.choice(messages), MOST);
        model.addAttribute("id", id);
        model.addAttribute("name", names.of(clinic.id(), Set.of(id)).get(id));
        model.addAttribute("form", form);
        model.addAttribute("lines", lines.ofOnePatient(found));
        model.addAttribute("most", found.size() == MOST ? MOST : null);
        lines.viewed(Set.of(id));
        return "account/patient-trail";
    }
}
