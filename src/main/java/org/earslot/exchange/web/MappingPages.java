package org.earslot.exchange.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRuns;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.exchange.imports.Upload;
import org.earslot.exchange.imports.Uploads;
import org.earslot.exchange.mapping.ClinicMapping;
import org.earslot.exchange.mapping.MappedForm;
import org.earslot.exchange.mapping.Mappings;
import org.earslot.exchange.mapping.SampleRows;
import org.earslot.exchange.mapping.Targets;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What a clinic's own spreadsheet means, in two steps: its headings and dates, then its words. Nothing goes in by these. */
@Controller
@RequestMapping("/import/uploads/{id}")
class MappingPages {

    private final Uploads uploads;
    private final Mappings mappings;
    private final ImportRuns runs;
    private final CurrentClinic current;
    private final Messages messages;

    MappingPages(Uploads uploads, Mappings mappings, ImportRuns runs, CurrentClinic current, Messages messages) {
        this.uploads = uploads;
        this.mappings = mappings;
        this.runs = runs;
        this.current = current;
        this.messages = messages;
    }

    @GetMapping("/headings")
    String headings(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "false") boolean createNames,
            @RequestParam(defaultValue = "false") boolean update,
            Model model)
            throws IOException {
        SampleRows sheet = look(upload(id));
        HeadingsForm form = HeadingsForm.of(mappings.headings(current.id(), sheet));
        return headings(model, id, sheet, form, List.of(), createNames, update);
    }

    @PostMapping("/headings")
    String keepHeadings(
            @PathVariable UUID id,
            @RequestParam MultiValueMap<String, String> given,
            @RequestParam(defaultValue = "false") boolean createNames,
            @RequestParam(defaultValue = "false") boolean update,
            Model model,
            HttpServletResponse response)
            throws IOException {
        SampleRows sheet = look(upload(id));
        HeadingsForm form = HeadingsForm.typed(given);
        List<Problem> problems = form.problems(sheet);
        if (!problems.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return headings(model, id, sheet, form, problems, createNames, update);
        }
        mappings.store(current.id(), form.mapping(sheet, mappings.headings(current.id(), sheet)));
        return "redirect:/import/uploads/" + id + "/words?createNames=" + createNames + "&update=" + update;
    }

    private String headings(
            Model model,
            UUID id,
            SampleRows sheet,
            HeadingsForm form,
            List<Problem> problems,
            boolean createNames,
            boolean update) {
        model.addAttribute("upload", upload(id));
        model.addAttribute("sheet", sheet);
        model.addAttribute("form", form);
        model.addAttribute("problems", problems);
        model.addAttribute("createNames", createNames);
        model.addAttribute("update", update);
        model.addAttribute("groups", HeadingsForm.groups());
        return "exchange/headings";
    }

    @GetMapping("/words")
    String words(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "false") boolean createNames,
            @RequestParam(defaultValue = "false") boolean update,
            Model model)
            throws IOException {
        Upload upload = upload(id);
        ClinicMapping mapping = mapping();
        try {
            model.addAttribute(
                    "form", WordsForm.of(mapping, look(upload), mappings, mappings.inNotes(upload, mapping)));
        } catch (UnreadableFile e) {
            throw unreadable(e);
        }
        model.addAttribute("upload", upload);
        model.addAttribute("meanings", Targets.meanings());
        model.addAttribute("createNames", createNames);
        model.addAttribute("update", update);
        return "exchange/words";
    }

    /** Keeps what was confirmed and tries the file: a dry run, which changes nothing. */
    @PostMapping("/words")
    String keepWords(
            @PathVariable UUID id,
            @RequestParam MultiValueMap<String, String> given,
            @RequestParam(defaultValue = "false") boolean createNames,
            @RequestParam(defaultValue = "false") boolean update,
            RedirectAttributes redirect) {
        Upload upload = upload(id);
        ClinicMapping mapping = WordsForm.confirmed(given, mapping());
        mappings.store(current.id(), mapping);
        ImportTerms terms =
                new ImportTerms(current.id(), current.who(), ImportKind.VISIT_LOG, true, createNames, update);
        if (runs.start(terms, upload, new MappedForm(mapping), true) instanceof ImportRuns.Start.Started started) {
            return "redirect:/import/runs/" + started.runId();
        }
        redirect.addFlashAttribute("notice", messages.say("exchange.import.wrong.underWay"));
        return "redirect:/import/uploads/" + id + "/words?createNames=" + createNames + "&update=" + update;
    }

    private ClinicMapping mapping() {
        return mappings.of(current.id()).orElseThrow(() -> Refused.notFound("mapping"));
    }

    private Upload upload(UUID id) {
        return uploads.find(current.id(), id).orElseThrow(() -> Refused.notFound("waiting-file"));
    }

    private static SampleRows look(Upload upload) throws IOException {
        try {
            return SampleRows.look(upload);
        } catch (UnreadableFile e) {
            throw unreadable(e);
        }
    }

    private static Refused unreadable(UnreadableFile file) {
        return Refused.invalid(file.faults().stream()
                .map(fault -> Problem.said("file", fault.value(), fault.reason(), fault.remedy()))
                .toList());
    }
}
