package org.earslot.daysheet.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.clinic.CurrentClinic;
import org.earslot.daysheet.TrayRule;
import org.earslot.daysheet.TrayRule.When;
import org.earslot.daysheet.TrayRules;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The rules of what to lay out, for the lead. */
@Controller
@RequestMapping("/setup/trays")
class TrayPages {

    private static final String BACK = "redirect:/setup/trays";
    private static final int LONGEST = 60;

    private final TrayRules rules;
    private final Edits edits;
    private final CurrentClinic current;
    private final Messages messages;

    TrayPages(TrayRules rules, Edits edits, CurrentClinic current, Messages messages) {
        this.rules = rules;
        this.edits = edits;
        this.current = current;
        this.messages = messages;
    }

    /** A rule as it was typed. */
    private record Typed(When when, String tray) {}

    @GetMapping
    String show(Model model) {
        return page(model, "", Map.of(), new Reading());
    }

    @PostMapping
    String add(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Typed> rule = read(typed, reading);
        if (rule.isEmpty()) {
            return again(model, "new", typed, reading, response);
        }
        rules.add(current.id(), rule.get().when(), rule.get().tray());
        return saved(redirect);
    }

    @PostMapping("/{place}")
    String change(
            @PathVariable int place,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        if (typed.containsKey("remove")) {
            return rules.remove(current.id(), place) ? saved(redirect) : gone();
        }
        Reading reading = new Reading();
        Optional<Typed> rule = read(typed, reading);
        if (rule.isEmpty()) {
            return again(model, String.valueOf(place), typed, reading, response);
        }
        Typed said = rule.get();
        return edits.save(
                                typed.get(FormVersion.FIELD),
                                () -> version(place),
                                () -> rules.amend(current.id(), place, said.when(), said.tray()))
                        .orElseThrow(Refused::changedMeanwhile)
                ? saved(redirect)
                : gone();
    }

    private FormVersion version(int place) {
        return rules.of(current.id()).stream()
                .filter(rule -> rule.place() == place)
                .findFirst()
                .map(TrayPages::version)
                .orElseGet(() -> FormVersion.ofText(""));
    }

    private static FormVersion version(TrayRule rule) {
        return FormVersion.ofText(rule.when() + " " + rule.tray());
    }

    @PostMapping("/common-practice")
    String reset(RedirectAttributes redirect) {
        rules.backToCommonPractice(current.id());
        return saved(redirect);
    }

    private Optional<Typed> read(Map<String, String> typed, Reading reading) {
        When when = new When(
                reading.word("method", typed.get("method"), Method::of, Word.codes(Method.values()))
                        .orElse(null),
                reading.word("wax", typed.get("wax"), Wax::of, Word.codes(Wax.values()))
                        .orElse(null),
                reading.word("canal", typed.get("canal"), Canal::of, Word.codes(Canal.values()))
                        .orElse(null),
                reading.word("depth", typed.get("depth"), Depth::of, Word.codes(Depth.values()))
                        .orElse(null));
        Optional<String> tray =
                reading.required("tray", reading.text("tray", typed.get("tray"), LONGEST), "daysheet.allowed.tray");
        if (reading.clean() && !when.namesSomething()) {
            reading.refuse("method", "", "daysheet.trays.when");
        }
        return reading.clean() ? tray.map(words -> new Typed(when, words)) : Optional.empty();
    }

    private String again(
            Model model, String row, Map<String, String> typed, Reading reading, HttpServletResponse response) {
        response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page(model, row, typed, reading);
    }

    private String page(Model model, String row, Map<String, String> typed, Reading reading) {
        List<TrayRule> all = rules.of(current.id());
        model.addAttribute("rules", all);
        model.addAttribute(
                "versions",
                all.stream().collect(Collectors.toMap(rule -> String.valueOf(rule.place()), TrayPages::version)));
        model.addAttribute("row", row);
        model.addAttribute("typed", typed);
        model.addAttribute("problems", reading.problems());
        model.addAttribute("methods", Method.values());
        model.addAttribute("waxes", Wax.values());
        model.addAttribute("canals", Canal.values());
        model.addAttribute("depths", Depth.values());
        return "daysheet/trays";
    }

    private String saved(RedirectAttributes redirect) {
        redirect.addFlashAttribute("notice", messages.say("daysheet.trays.saved"));
        return BACK;
    }

    private static String gone() {
        throw Refused.notFound("tray-rule");
    }
}
