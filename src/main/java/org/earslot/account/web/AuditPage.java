package org.earslot.account.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.earslot.account.AuditEntry;
import org.earslot.account.AuditTrail;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.CsvWriter;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.data.domain.Slice;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestParam;

/** The audit trail, to be read and to be taken away. */
@Controller
class AuditPage {

    private static final String AUDIT = "/audit";

    private final CurrentClinic clinic;
    private final AuditTrail trail;
    private final AuditLines auditLines;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    AuditPage(
            CurrentClinic clinic,
            AuditTrail trail,
            AuditLines auditLines,
            Messages messages,
            ApplicationEventPublisher events) {
        this.clinic = clinic;
        this.trail = trail;
        this.auditLines = auditLines;
        this.messages = messages;
        this.events = events;
    }

    @GetMapping(AUDIT)
    String show(@ModelAttribute AuditForm form, @RequestParam(defaultValue = "0") int page, Model model) {
        if (page < 0 || page > 1_000_000) {
            throw Refused.invalid(List.of(Checks.problem(messages, "page", Integer.toString(page), "page")));
        }
        Slice<AuditEntry> lines = trail.latest(clinic.id(), form.choice(messages), page);
        model.addAttribute("lines", auditLines.named(lines.getContent()));
        model.addAttribute("later", page > 0 ? page - 1 : null);
        model.addAttribute("earlier", lines.hasNext() ? page + 1 : null);
        model.addAttribute("form", form);
        return "account/audit";
    }

    @GetMapping(AUDIT + "/export")
    void export(@ModelAttribute AuditForm form, HttpServletResponse response) throws IOException {
        AuditTrail.Choice choice = form.choice(messages);
        ClinicId clinicId = clinic.id();
        events.publishEvent(new Audited.Entry(clinicId, "audit-exported", "audit", null, null));
        response.setContentType("text/csv");
        response.setCharacterEncoding(StandardCharsets.UTF_8);
        response.setHeader(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"audit.csv\"");
        CsvWriter csv = new CsvWriter(response.getWriter());
        csv.write(List.of("at", "who", "action", "subject_kind", "subject_id", "detail"));
        trail.each(clinicId, choice, entry -> print(csv, auditLines.bare(entry)));
    }

    private static void print(CsvWriter csv, AuditLines.Line line) {
        try {
            csv.write(line.cells());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
