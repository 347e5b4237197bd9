package org.earslot.review.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.YearMonth;
import java.time.format.DateTimeFormatter;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotPolicy;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.review.advice.MonthChanges;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Other slots: seen on a month before they are put in force, and taken back. */
@Controller
@RequestMapping("/review/{month}/change")
@PreAuthorize("hasRole('LEAD')")
class ChangePages {

    private final MonthChanges changes;
    private final ChangeSection section;
    private final SlotPolicy policy;
    private final AskedMonth months;
    private final CurrentClinic current;
    private final Messages messages;

    ChangePages(
            MonthChanges changes,
            ChangeSection section,
            SlotPolicy policy,
            AskedMonth months,
            CurrentClinic current,
            Messages messages) {
        this.changes = changes;
        this.section = section;
        this.policy = policy;
        this.months = months;
        this.current = current;
        this.messages = messages;
    }

    /** What to change by itself, for a page that did not wait for it. */
    @GetMapping
    String section(@PathVariable String month, Model model) {
        YearMonth asked = months.read(month, current.id());
        section.addTo(model, asked);
        model.addAttribute("month", asked);
        model.addAttribute("named", named(asked));
        return "review/changes";
    }

    /** What other slots would have done to the month. */
    @GetMapping("/try")
    String tryOut(
            @PathVariable String month,
            @RequestParam Map<String, String> typed,
            Model model,
            HttpServletResponse response) {
        YearMonth asked = months.read(month, current.id());
        SlotTerms inForce = policy.of(current.id());
        ChangeForm form = new ChangeForm(typed, inForce);
        Reading reading = new Reading();
        SlotTerms terms = form.terms(reading);
        model.addAttribute("month", asked);
        model.addAttribute("named", named(asked));
        model.addAttribute("inForce", inForce);
        model.addAttribute("form", form);
        model.addAttribute("kinds", SlotKind.all());
        model.addAttribute("code", ChangeForm.code(inForce));
        model.addAttribute("problems", reading.byField());
        model.addAttribute("byPolicy", changes.byPolicy(current.id(), asked));
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        } else if (!terms.equals(inForce)) {
            model.addAttribute("asked", terms);
            model.addAttribute("shorter", shorter(inForce, terms));
            model.addAttribute("effect", changes.tried(current.id(), asked, terms));
        }
        return "review/try";
    }

    private static boolean shorter(SlotTerms before, SlotTerms after) {
        return after.acceptedOverrunShare() > before.acceptedOverrunShare()
                || SlotKind.all().stream()
                        .anyMatch(kind -> after.adjustments().of(kind)
                                < before.adjustments().of(kind));
    }

    /** Puts other slots in force, unless the policy was changed since the page was made. */
    @PostMapping("/apply")
    String apply(@PathVariable String month, @RequestParam Map<String, String> typed, RedirectAttributes redirect) {
        YearMonth asked = months.read(month, current.id());
        SlotTerms inForce = policy.of(current.id());
        Reading reading = new Reading();
        SlotTerms terms = new ChangeForm(typed, inForce).terms(reading);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        boolean applied = ChangeForm.code(inForce).equals(typed.get("before"))
                && !terms.equals(inForce)
                && policy.apply(current.id(), inForce, terms, current.who());
        return back(redirect, asked, applied ? "review.toChange.applied" : "review.toChange.notApplied");
    }

    /** Counts on the turnaround that was found, unless the policy was changed since the page was made. */
    @PostMapping("/turnaround")
    String turnaround(
            @PathVariable String month, @RequestParam Map<String, String> typed, RedirectAttributes redirect) {
        YearMonth asked = months.read(month, current.id());
        Reading reading = new Reading();
        Optional<Method> method = reading.word("method", typed.get("method"), Method::of, Word.codes(Method.values()));
        Optional<Integer> before = reading.whole("before", typed.get("before"), 0, 60);
        Optional<Integer> minutes = reading.whole("minutes", typed.get("minutes"), 0, 60);
        if (!reading.clean() || method.isEmpty() || before.isEmpty() || minutes.isEmpty()) {
            throw Refused.invalid(reading.problems());
        }
        boolean adopted = policy.adoptTurnaround(current.id(), method.get(), before.get(), minutes.get());
        return back(redirect, asked, adopted ? "review.turnaround.adopted" : "review.toChange.notApplied");
    }

    @PostMapping("/{id}/undo")
    String undo(@PathVariable String month, @PathVariable UUID id, RedirectAttributes redirect) {
        YearMonth asked = months.read(month, current.id());
        boolean undone = policy.undo(current.id(), id, current.who());
        return back(redirect, asked, undone ? "review.toChange.undone" : "review.toChange.notUndone");
    }

    @GetMapping("/{table}.csv")
    ResponseEntity<String> file(@PathVariable String month, @PathVariable String table) {
        YearMonth asked = months.read(month, current.id());
        String text =
                ChangeCsv.table(changes.after(current.id(), asked), table).orElseThrow(() -> Refused.notFound("table"));
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType("text/csv;charset=UTF-8"))
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        ContentDisposition.attachment()
                                .filename("review-" + asked + "-change-" + table + ".csv")
                                .build()
                                .toString())
                .body(text);
    }

    private static String named(YearMonth month) {
        return month.format(DateTimeFormatter.ofPattern("MMMM yyyy", LocaleContextHolder.getLocale()));
    }

    private String back(RedirectAttributes redirect, YearMonth month, String notice) {
        redirect.addFlashAttribute("notice", messages.say(notice));
        return "redirect:/review/" + month;
    }
}
