package org.earslot.caution.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.time.Period;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.caution.CautionRule;
import org.earslot.caution.CautionTable;
import org.earslot.caution.CautionTables;
import org.earslot.caution.CautionTables.NotSigned;
import org.earslot.caution.CautionTables.Signing;
import org.earslot.caution.Mark;
import org.earslot.caution.Verdict;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.earslot.page.ChangedField;
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

/** The table of cautions by method: the lead reads and changes each cell; a lead who is a practitioner signs it off. */
@Controller
@RequestMapping("/setup/cautions")
class CautionPages {

    private static final int LONGEST = 500;
    private static final int PLACES = 2;
    private static final int SHORT = 80;
    private static final int LONGEST_UNREAD = 3;

    private final CautionTables tables;
    private final Edits edits;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    CautionPages(CautionTables tables, Edits edits, CurrentClinic current, ClinicClock clock, Messages messages) {
        this.tables = tables;
        this.edits = edits;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping
    String table(Model model) {
        return table(model, Map.of(), new Reading());
    }

    private String table(Model model, Map<String, String> typed, Reading reading) {
        CautionTable table = tables.of(current.id());
        Map<Caution, Map<Method, List<CautionRule>>> cells = new LinkedHashMap<>();
        for (Caution caution : Caution.values()) {
            Map<Method, List<CautionRule>> row = new LinkedHashMap<>();
            for (Method method : Method.values()) {
                row.put(method, table.rules(caution, method));
            }
            cells.put(caution, row);
        }
        model.addAttribute("table", table);
        model.addAttribute("cells", cells);
        model.addAttribute("methods", Method.values());
        model.addAttribute("due", table.reviewDue(clock.today(current.id())));
        model.addAttribute("problems", reading.byField());
        offerToSign(model, typed);
        return "caution/cautions";
    }

    @GetMapping("/{caution}/{method}")
    String cell(@PathVariable String caution, @PathVariable String method, Model model) {
        Caution of = caution(caution);
        Method by = method(method);
        Map<String, String> values = new LinkedHashMap<>();
        List<CautionRule> rules = tables.stored(current.id()).rules(of, by);
        for (int place = 0; place < Math.min(PLACES, rules.size()); place++) {
            CautionRule rule = rules.get(place);
            values.put("verdict" + place, rule.verdict().code());
            values.put("within" + place, rule.within().map(CautionPages::amount).orElse(""));
            values.put("unit" + place, rule.within().map(CautionPages::unit).orElse("months"));
            values.put("allClear" + place, rule.needsAllClear() ? "yes" : "");
            values.put("source" + place, rule.source());
        }
        return cell(model, of, by, values, new Reading());
    }

    @PostMapping("/{caution}/{method}")
    String settle(
            @PathVariable String caution,
            @PathVariable String method,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Caution of = caution(caution);
        Method by = method(method);
        Reading reading = new Reading();
        List<CautionRule> before = tables.stored(current.id()).rules(of, by);
        List<CautionRule> rules = new ArrayList<>();
        for (int place = 0; place < PLACES; place++) {
            Optional<CautionRule> as = place < before.size() ? Optional.of(before.get(place)) : Optional.empty();
            rule(reading, typed, place, of, by, as).ifPresent(rules::add);
        }
        Optional<Signing> signing = typed.containsKey("signOff") ? signing(reading, typed) : Optional.empty();
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return cell(model, of, by, typed, reading);
        }
        Optional<Optional<NotSigned>> settled = edits.save(
                typed.get(FormVersion.FIELD),
                () -> version(of, by),
                () -> tables.settle(current.id(), of, by, rules, signing, current.who()));
        if (settled.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            model.addAttribute("changes", changes(of, by));
            return cell(model, of, by, typed, reading);
        }
        return done(settled.get(), redirect);
    }

    @PostMapping("/sign-off")
    String signAll(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Signing> signing = signing(reading, typed);
        reading.required("read", reading.text("read", typed.get("read"), SHORT), "that every cell was read");
        if (signing.isEmpty() || !reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return table(model, typed, reading);
        }
        String version = typed.getOrDefault("version", "");
        return done(tables.signAll(current.id(), version, signing.get(), current.who()), redirect);
    }

    private Optional<Signing> signing(Reading reading, Map<String, String> typed) {
        LocalDate today = clock.today(current.id());
        Optional<String> role =
                reading.required("role", reading.text("role", typed.get("role"), SHORT), "your role, as in lead nurse");
        Optional<LocalDate> reviewBy = reading.required(
                "reviewBy",
                reading.date("reviewBy", typed.get("reviewBy"), today.plusDays(1), today.plusYears(LONGEST_UNREAD)),
                "the day of the next review");
        return role.flatMap(
                as -> reviewBy.map(by -> new Signing(current.practitionerId().orElse(null), as, by)));
    }

    private String done(Optional<NotSigned> refusal, RedirectAttributes redirect) {
        if (refusal.isPresent()) {
            throw refusal.get() == NotSigned.NO_PRACTITIONER
                    ? Refused.conflict("no-practitioner", messages.say("caution.refused.noPractitioner"))
                    : Refused.conflict("table-changed", messages.say("caution.refused.tableChanged"));
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/cautions";
    }

    /** Whether the account may sign, and a year as the next review (common practice, no source). */
    private void offerToSign(Model model, Map<String, String> values) {
        model.addAttribute("maySign", current.practitionerId().isPresent());
        Map<String, String> shown = new LinkedHashMap<>(values);
        shown.putIfAbsent("reviewBy", clock.today(current.id()).plusYears(1).toString());
        model.addAttribute("values", shown);
    }

    private String cell(Model model, Caution caution, Method method, Map<String, String> values, Reading reading) {
        model.addAttribute("caution", caution);
        model.addAttribute("method", method);
        model.addAttribute("rules", tables.stored(current.id()).rules(caution, method));
        model.addAttribute("delivered", tables.delivered(caution, method));
        model.addAttribute("version", version(caution, method));
        model.addAttribute("problems", reading.byField());
        offerToSign(model, values);
        model.addAttribute("verdicts", Verdict.values());
        return "caution/caution-cell";
    }

    private FormVersion version(Caution caution, Method method) {
        return FormVersion.ofText(
                tables.stored(current.id()).rules(caution, method).toString());
    }

    /** The rules that somebody else has saved. */
    private List<ChangedField> changes(Caution caution, Method method) {
        List<CautionRule> rules = tables.stored(current.id()).rules(caution, method);
        List<ChangedField> changes = new ArrayList<>();
        for (int place = 0; place < Math.min(PLACES, rules.size()); place++) {
            CautionRule rule = rules.get(place);
            String verdict = messages.say("VerdictWord." + rule.verdict().code());
            changes.add(new ChangedField(messages.say("caution.rule" + place), verdict + ", " + rule.source(), false));
        }
        return changes;
    }

    /** The first rule must be given, the second may be left out. One that says what it said before has the same mark. */
    private static Optional<CautionRule> rule(
            Reading reading,
            Map<String, String> typed,
            int place,
            Caution caution,
            Method method,
            Optional<CautionRule> before) {
        Optional<Verdict> verdict = reading.word(
                "verdict" + place, typed.get("verdict" + place), Verdict::of, Word.codes(Verdict.values()));
        if (place == 0) {
            reading.required("verdict0", verdict, "no known caution, precaution or contraindicated");
        }
        if (verdict.isEmpty()) {
            if (Stream.of("within", "source", "allClear").anyMatch(field -> isGiven(typed, field + place))) {
                reading.required("verdict" + place, verdict, "a verdict, or a rule left empty");
            }
            return Optional.empty();
        }
        if (isGiven(typed, "allClear" + place) && !isGiven(typed, "within" + place)) {
            reading.required("within" + place, Optional.empty(), "a time, or no all-clear");
        }
        Optional<Integer> amount = reading.whole("within" + place, typed.get("within" + place), 1, 240);
        Optional<Period> within = amount.map(
                number -> "weeks".equals(typed.get("unit" + place)) ? Period.ofWeeks(number) : Period.ofMonths(number));
        Optional<String> source = reading.required(
                "source" + place, reading.text("source" + place, typed.get("source" + place), LONGEST), "a source");
        boolean allClear = within.isPresent() && typed.containsKey("allClear" + place);
        return source.map(said ->
                        new CautionRule(caution, method, verdict.get(), within, allClear, said, Mark.CHANGED_HERE))
                .map(now -> before.filter(now::saysTheSameAs).orElse(now));
    }

    private static boolean isGiven(Map<String, String> typed, String field) {
        return !typed.getOrDefault(field, "").isBlank();
    }

    private static String amount(Period period) {
        return String.valueOf(period.getDays() == 0 ? period.toTotalMonths() : period.getDays() / 7);
    }

    private static String unit(Period period) {
        return period.getDays() == 0 ? "months" : "weeks";
    }

    private static Caution caution(String code) {
        return Caution.of(code).orElseThrow(() -> Refused.notFound("caution"));
    }

    private static Method method(String code) {
        return Method.of(code).orElseThrow(() -> Refused.notFound("method"));
    }
}
