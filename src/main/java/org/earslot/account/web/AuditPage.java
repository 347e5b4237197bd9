package org.earslot.account.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.UUID;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.earslot.account.AuditEntry;
import org.earslot.account.AuditTrail;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Refused;
import org.earslot.page.SpreadsheetCell;
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
    private final ClinicClock clock;
    private final Wording wording;
    private final ApplicationEventPublisher events;

    AuditPage(
            CurrentClinic clinic,
            AuditTrail trail,
            ClinicClock clock,
            Wording wording,
            ApplicationEventPublisher events) {
        this.clinic = clinic;
        this.trail = trail;
        this.clock = clock;
        this.wording = wording;
        this.events = events;
    }

    /** The choice as typed. */
    record Form(
            @org.jspecify.annotations.Nullable String day,
            @org.jspecify.annotations.Nullable String who,
            @org.jspecify.annotations.Nullable String kind,
            @org.jspecify.annotations.Nullable String subject) {

        Form {
            day = day == null ? "" : day.strip();
            who = who == null ? "" : who.strip();
            kind = kind == null ? "" : kind.strip();
            subject = subject == null ? "" : subject.strip();
        }
    }

    /** One line as it is read, by the clinic's clock. */
    public record Line(String at, String who, String action, String kind, String subject, String detail) {

        List<String> cells() {
            return List.of(at, who, action, kind, subject, detail);
        }
    }

    @GetMapping(AUDIT)
    String show(@ModelAttribute Form form, @RequestParam(defaultValue = "0") int page, Model model) {
        if (page < 0 || page > 1_000_000) {
            throw Refused.invalid(List.of(wording.problem("page", Integer.toString(page), "page")));
        }
        Slice<AuditEntry> lines = trail.latest(clinic.id(), choice(form), page);
        model.addAttribute("lines", lines.map(this::line).getContent());
        model.addAttribute("later", page > 0 ? page - 1 : null);
        model.addAttribute("earlier", lines.hasNext() ? page + 1 : null);
        model.addAttribute("form", form);
        return "account/audit";
    }

    @GetMapping(AUDIT + "/export")
    void export(@ModelAttribute Form form, HttpServletResponse response) throws IOException {
        AuditTrail.Choice choice = choice(form);
        UUID clinicId = clinic.id();
        events.publishEvent(new Audited.Entry(clinicId, "audit-exported", "audit", null, null));
        response.setContentType("text/csv");
        response.setCharacterEncoding(StandardCharsets.UTF_8);
        response.setHeader(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"audit.csv\"");
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setHeader("at", "who", "action", "subject_kind", "subject_id", "detail")
                .get();
        try (CSVPrinter csv = new CSVPrinter(response.getWriter(), format)) {
            trail.each(clinicId, choice, entry -> print(csv, line(entry)));
        }
    }

    private static void print(CSVPrinter csv, Line line) {
        try {
            csv.printRecord(line.cells().stream().map(SpreadsheetCell::safe).toList());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private Line line(AuditEntry entry) {
        return new Line(
                clock.local(clinic.id(), entry.at())
                        .truncatedTo(ChronoUnit.SECONDS)
                        .toString()
                        .replace('T', ' '),
                entry.who(),
                entry.action(),
                entry.subjectKind(),
                entry.subjectId().orElse(""),
                entry.detail().orElse(""));
    }

    private AuditTrail.Choice choice(Form form) {
        try {
            LocalDate day = form.day().isEmpty() ? null : LocalDate.parse(form.day());
            if (day == null || (day.getYear() >= 1970 && day.getYear() < 9999)) {
                return new AuditTrail.Choice(day, form.who(), form.kind(), form.subject());
            }
        } catch (DateTimeParseException e) {
            // Refused below, like a day that no clinic ever had.
        }
        throw Refused.invalid(List.of(wording.problem("day", form.day(), "day")));
    }
}
