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
import org.earslot.exchange.BookingsExport;
import org.earslot.exchange.imports.ApiImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** The open diary as a file: in and out for programs, out for the lead, whose way in is the page of imports. */
@RestController
class BookingsFiles {

    private static final String CSV = "text/csv";
    private static final String PATH = "/api/v1/bookings";
    private static final LocalDate FIRST = LocalDate.of(1900, 1, 1);
    private static final LocalDate LAST = LocalDate.of(2199, 12, 31);

    private final ApiImport imports;
    private final BookingsExport export;
    private final CurrentClinic current;

    BookingsFiles(ApiImport imports, BookingsExport export, CurrentClinic current) {
        this.imports = imports;
        this.export = export;
        this.current = current;
    }

    @PostMapping(path = PATH, consumes = CSV)
    void take(
            @RequestParam(defaultValue = "false") String dryRun,
            @RequestParam(defaultValue = "false") String createNames,
            @RequestParam(defaultValue = "false") String update,
            HttpServletRequest request,
            HttpServletResponse response)
            throws IOException {
        ImportTerms terms =
                ImportTerms.asked(current.id(), current.who(), ImportKind.BOOKINGS, dryRun, createNames, update);
        ImportRun run = imports.take(terms, request.getInputStream());
        response.setContentType(MediaType.APPLICATION_JSON_VALUE);
        imports.report(run, "bookingId", response.getOutputStream());
    }

    @GetMapping(PATH)
    void give(@RequestParam(defaultValue = "") String from, HttpServletResponse response) throws IOException {
        write(from, response, false);
    }

    /** With a byte order mark, by which a spreadsheet knows the encoding. */
    @GetMapping("/import/bookings.csv")
    void download(@RequestParam(defaultValue = "") String from, HttpServletResponse response) throws IOException {
        write(from, response, true);
    }

    private void write(String from, HttpServletResponse response, boolean forPeople) throws IOException {
        Reading reading = new Reading();
        Optional<LocalDate> first = reading.date("from", from, FIRST, LAST);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        response.setContentType(CSV);
        response.setCharacterEncoding(StandardCharsets.UTF_8.name());
        if (forPeople) {
            response.setHeader("Content-Disposition", "attachment; filename=\"bookings.csv\"");
        }
        Writer out = new BufferedWriter(new OutputStreamWriter(response.getOutputStream(), StandardCharsets.UTF_8));
        if (forPeople) {
            out.write('\uFEFF');
        }
        export.write(current.id(), first, out);
        out.flush();
    }
}
