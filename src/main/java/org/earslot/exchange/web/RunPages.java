package org.earslot.exchange.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.Audited;
import org.earslot.clinic.CurrentClinic;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.csv.RawCells;
import org.earslot.exchange.csv.RejectedColumns;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportRuns;
import org.earslot.exchange.imports.Rejection;
import org.earslot.exchange.imports.Rejections;
import org.earslot.exchange.imports.Upload;
import org.earslot.exchange.imports.Uploads;
import org.earslot.page.CsvWriter;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.page.SpreadsheetCell;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One run: how far it is, what came of it, its rejected lines, and going in for good after a dry run. */
@Controller
@RequestMapping("/import/runs/{id}")
class RunPages {

    private static final int PAGE = 100;

    private final ImportRuns runs;
    private final Rejections rejections;
    private final Uploads uploads;
    private final CurrentClinic current;
    private final ApplicationEventPublisher events;
    private final RunText text;
    private final Messages messages;

    RunPages(
            ImportRuns runs,
            Rejections rejections,
            Uploads uploads,
            CurrentClinic current,
            ApplicationEventPublisher events,
            RunText text,
            Messages messages) {
        this.runs = runs;
        this.rejections = rejections;
        this.uploads = uploads;
        this.current = current;
        this.events = events;
        this.text = text;
        this.messages = messages;
    }

    @GetMapping
    String show(@PathVariable UUID id, Model model) {
        return run(id, model, "exchange/run");
    }

    /** The part of the page that changes while the run goes on. */
    @GetMapping("/progress")
    String progress(@PathVariable UUID id, Model model) {
        return run(id, model, "exchange/run :: progress");
    }

    private String run(UUID id, Model model, String view) {
        ImportRun run = run(id);
        model.addAttribute("run", run);
        model.addAttribute("text", text);
        model.addAttribute("waiting", waiting(run).isPresent());
        model.addAttribute("listed", run.underWay() ? run.rejected() : rejections.lines(id));
        List<Rejection> first = run.underWay() ? List.of() : rejections.page(id, 0, 5);
        if (!first.isEmpty()) {
            seen(id);
        }
        model.addAttribute("first", first);
        return view;
    }

    /** The same file on the same terms, for good. */
    @PostMapping("/go")
    String go(@PathVariable UUID id, RedirectAttributes redirect) {
        ImportRun dry = run(id);
        Optional<Upload> upload = waiting(dry);
        Optional<FileForm> form = upload.flatMap(Upload::form);
        if (upload.isEmpty() || form.isEmpty()) {
            redirect.addFlashAttribute("notice", messages.say("exchange.run.fileGone"));
            return "redirect:/import";
        }
        ImportRuns.Start start = runs.start(dry.termsForGood(current.who()), upload.get(), form.get(), dry.mapped());
        if (start instanceof ImportRuns.Start.Started started) {
            return "redirect:/import/runs/" + started.runId();
        }
        redirect.addFlashAttribute("notice", messages.say("exchange.import.wrong.underWay"));
        return "redirect:/import/runs/" + id;
    }

    @GetMapping("/rejected")
    String rejected(@PathVariable UUID id, @RequestParam(defaultValue = "0") int page, Model model) {
        ImportRun run = run(id);
        int shown = Math.max(0, Math.min(page, Integer.MAX_VALUE / PAGE - 1));
        List<Rejection> more = rejections.page(id, shown * PAGE, PAGE + 1);
        seen(id);
        model.addAttribute("run", run);
        model.addAttribute("listed", rejections.lines(id));
        model.addAttribute("page", shown);
        model.addAttribute("more", more.size() > PAGE);
        model.addAttribute("rejections", more.subList(0, Math.min(PAGE, more.size())));
        return "exchange/rejected";
    }

    /** The rejected lines as CSV: what is wrong and what to do first, then the line's cells, to be corrected and sent again. */
    @GetMapping("/rejected.csv")
    void download(@PathVariable UUID id, HttpServletResponse response) throws IOException {
        ImportRun run = run(id);
        events.publishEvent(
                new Audited.Entry(current.id(), "rejected-lines-exported", "import-run", id.toString(), null));
        try (Writer out = ImportPages.download(response, "rejected-lines.csv")) {
            CsvWriter csv = new CsvWriter(out);
            csv.write(beside(RejectedColumns.NAMES, run.header().orElse(""), run.separator()));
            rejections.eachLine(id, faults -> write(csv, run, faults));
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }

    private static void write(CsvWriter csv, ImportRun run, List<Rejection> faults) {
        try {
            List<String> told = List.of(
                    String.valueOf(faults.get(0).line()),
                    faults.stream().map(RunPages::said).collect(Collectors.joining("; ")),
                    faults.stream().map(rejection -> rejection.fault().remedy()).collect(Collectors.joining("; ")));
            csv.write(beside(told, faults.get(0).raw(), run.separator()));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String said(Rejection rejection) {
        String column = rejection.fault().column();
        return (column.isEmpty() ? "" : column + ": ") + rejection.fault().reason();
    }

    private static List<String> beside(List<String> first, String raw, char separator) {
        List<String> cells = new ArrayList<>(first);
        RawCells.of(raw, separator).stream().map(SpreadsheetCell::bare).forEach(cells::add);
        return cells;
    }

    private Optional<Upload> waiting(ImportRun run) {
        boolean tried =
                run.terms().dryRun() && !run.underWay() && run.messages().isEmpty() && run.accepted() > 0;
        return tried ? run.uploadId().flatMap(upload -> uploads.find(current.id(), upload)) : Optional.empty();
    }

    /** Rejected lines hold what they say of patients. */
    private void seen(UUID id) {
        events.publishEvent(new Audited.Entry(current.id(), "rejected-lines-seen", "import-run", id.toString(), null));
    }

    private ImportRun run(UUID id) {
        return runs.find(current.id(), id).orElseThrow(() -> Refused.notFound("import"));
    }
}
