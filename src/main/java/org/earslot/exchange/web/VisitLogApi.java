package org.earslot.exchange.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.Optional;
import org.earslot.clinic.CurrentClinic;
import org.earslot.exchange.VisitLogExport;
import org.earslot.exchange.imports.ApiImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** The visit log for programs, in and out. */
@RestController
@RequestMapping("/api/v1/visit-log")
class VisitLogApi {

    private static final String CSV = "text/csv";
    private static final LocalDate FIRST = LocalDate.of(1900, 1, 1);
    private static final LocalDate LAST = LocalDate.of(2199, 12, 31);

    private final ApiImport imports;
    private final VisitLogExport export;
    private final CurrentClinic current;

    VisitLogApi(ApiImport imports, VisitLogExport export, CurrentClinic current) {
        this.imports = imports;
        this.export = export;
        this.current = current;
    }

    @PostMapping(consumes = CSV)
    void take(
            @RequestParam(defaultValue = "false") String dryRun,
            @RequestParam(defaultValue = "false") String createNames,
            @RequestParam(defaultValue = "false") String update,
            HttpServletRequest request,
            HttpServletResponse response)
            throws IOException {
        ImportTerms terms =
                ImportTerms.asked(current.id(), current.who(), ImportKind.VISIT_LOG, dryRun, createNames, update);
        ImportRun run = imports.take(terms, request.getInputStream());
        response.setContentType(MediaType.APPLICATION_JSON_VALUE);
        imports.report(run, "visitId", response.getOutputStream());
    }

    @GetMapping
    void give(
            @RequestParam(defaultValue = "") String from,
            @RequestParam(defaultValue = "") String to,
            HttpServletResponse response)
            throws IOException {
        Reading reading = new Reading();
        Optional<LocalDate> first = reading.date("from", from, FIRST, LAST);
        Optional<LocalDate> last = reading.date("to", to, FIRST, LAST);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        response.setContentType(CSV);
        response.setCharacterEncoding(StandardCharsets.UTF_8.name());
        Writer out = new BufferedWriter(new OutputStreamWriter(response.getOutputStream(), StandardCharsets.UTF_8));
        export.write(current.id(), first, last, out);
        out.flush();
    }
}
