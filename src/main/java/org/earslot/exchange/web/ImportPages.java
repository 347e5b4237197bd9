package org.earslot.exchange.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.clinic.CurrentClinic;
import org.earslot.exchange.VisitLogExport;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.FieldError;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.exchange.imports.CsvImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRuns;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.exchange.imports.Upload;
import org.earslot.exchange.imports.Uploads;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;

/** The page of imports: send a file, see the latest runs, take the visit log out. */
@Controller
@RequestMapping("/import")
class ImportPages {

    private static final LocalDate FIRST = LocalDate.of(1900, 1, 1);
    private static final LocalDate LAST = LocalDate.of(2199, 12, 31);
    private static final int LONGEST_NAME = 120;

    private final ImportRuns runs;
    private final Uploads uploads;
    private final List<CsvImport> kinds;
    private final VisitLogExport export;
    private final CurrentClinic current;
    private final RunText text;
    private final Messages messages;

    ImportPages(
            ImportRuns runs,
            Uploads uploads,
            List<CsvImport> kinds,
            VisitLogExport export,
            CurrentClinic current,
            RunText text,
            Messages messages) {
        this.runs = runs;
        this.uploads = uploads;
        this.kinds = kinds;
        this.export = export;
        this.current = current;
        this.text = text;
        this.messages = messages;
    }

    @GetMapping
    String show(Model model) {
        return page(model, new ImportForm("visit_log", true, false), List.of());
    }

    /** A file with the format's own headings is tried at once; any other goes to the mapping of its headings first. */
    @PostMapping
    String send(
            @RequestParam(defaultValue = "") String kind,
            @RequestParam(defaultValue = "false") boolean createNames,
            @RequestParam(defaultValue = "false") boolean update,
            @RequestParam(required = false) MultipartFile file,
            Model model,
            HttpServletResponse response)
            throws IOException {
        ImportForm form = new ImportForm(kind, createNames, update);
        Optional<CsvImport> wanted =
                kinds.stream().filter(known -> known.kind().code().equals(kind)).findFirst();
        if (wanted.isEmpty()) {
            return refused(model, response, form, List.of(messages.say("exchange.import.wrong.kind")));
        }
        if (file == null || file.isEmpty()) {
            return refused(model, response, form, List.of(messages.say("exchange.import.wrong.noFile")));
        }
        Upload upload;
        try (InputStream in = file.getInputStream()) {
            upload = uploads.store(current.id(), name(file), in);
        }
        List<FieldError> faults = faults(upload, wanted.get());
        if (faults.isEmpty()) {
            return tried(model, response, form, upload, wanted.get());
        }
        if (wanted.get().kind() == ImportKind.VISIT_LOG
                && faults.stream().anyMatch(f -> !f.column().isEmpty())) {
            return "redirect:/import/uploads/" + upload.id() + "/headings?createNames=" + createNames + "&update="
                    + update;
        }
        uploads.remove(upload);
        return refused(model, response, form, faults.stream().map(text::said).toList());
    }

    private String tried(Model model, HttpServletResponse response, ImportForm form, Upload upload, CsvImport kind) {
        ImportTerms terms =
                new ImportTerms(current.id(), current.who(), kind.kind(), true, form.createNames(), form.update());
        ImportRuns.Start start = runs.start(terms, upload, FileForm.own(kind.columns(), kind.required()), false);
        if (start instanceof ImportRuns.Start.Started started) {
            return "redirect:/import/runs/" + started.runId();
        }
        return refused(model, response, form, List.of(messages.say("exchange.import.wrong.underWay")));
    }

    @GetMapping("/visit-log.csv")
    void export(
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
        try (Writer out = download(response, "visit-log.csv")) {
            export.write(current.id(), first, last, out);
        }
    }

    /** A download that a spreadsheet opens in the right encoding: by its byte order mark. */
    static Writer download(HttpServletResponse response, String fileName) throws IOException {
        response.setContentType("text/csv");
        response.setCharacterEncoding(StandardCharsets.UTF_8.name());
        response.setHeader("Content-Disposition", "attachment; filename=\"" + fileName + "\"");
        Writer out = new BufferedWriter(new OutputStreamWriter(response.getOutputStream(), StandardCharsets.UTF_8));
        out.write('\uFEFF');
        return out;
    }

    private String refused(Model model, HttpServletResponse response, ImportForm form, List<String> problems) {
        response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page(model, form, problems);
    }

    private String page(Model model, ImportForm form, List<String> problems) {
        model.addAttribute("form", form);
        model.addAttribute("problems", problems);
        model.addAttribute("kinds", kinds.stream().map(CsvImport::kind).sorted().toList());
        model.addAttribute("diary", kinds.stream().anyMatch(kind -> kind.kind() == ImportKind.BOOKINGS));
        model.addAttribute("runs", runs.latest(current.id()));
        model.addAttribute("text", text);
        return "exchange/import";
    }

    private static List<FieldError> faults(Upload upload, CsvImport kind) throws IOException {
        try (InputStream in = upload.open()) {
            FileForm own = FileForm.own(kind.columns(), kind.required());
            own.head(new CsvReader(in).header().cells());
            return List.of();
        } catch (UnreadableFile e) {
            return e.faults();
        }
    }

    /** The file's name without folders and control characters. */
    private static String name(MultipartFile file) {
        String given = Optional.ofNullable(file.getOriginalFilename()).orElse("");
        String name = given.substring(Math.max(given.lastIndexOf('/'), given.lastIndexOf('\\')) + 1)
                .codePoints()
                .filter(c -> !Character.isISOControl(c))
                .limit(LONGEST_NAME)
                .mapToObj(Character::toString)
                .collect(Collectors.joining());
        return name.isBlank() ? "file.csv" : name;
    }
}
