package org.earslot.caution.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.time.Period;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.caution.CautionRefusal;
import org.earslot.caution.CautionRule;
import org.earslot.caution.CautionTable;
import org.earslot.caution.CautionTables;
import org.earslot.caution.CautionTables.Signing;
import org.earslot.caution.Mark;
import org.earslot.caution.Verdict;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.earslot.page.ChangedField;
import org.earslot.page.DateRange;
import org.earslot.page.Edits;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.PlainText;
import org.earslot.page.Refused;
import org.hibernate.validator.constraints.Range;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The table of cautions by method: the lead changes each cell; a practitioner reads it and signs it off. */
@Controller
@RequestMapping("/setup/cautions")
class CautionPages {

    private static final int PLACES = 2;

    /** One rule of a cell. */
    record RuleForm(
            @Nullable Verdict verdict,
            @Range(min = 1, max = 240) @Nullable Integer within,
            @Nullable String unit,
            boolean allClear,
            @PlainText(max = 500) @Nullable String source) {

        boolean somethingGiven(FormFields fields, int place) {
            return Stream.of("within", "source", "allClear")
                    .anyMatch(field -> !fields.get(field + place).isBlank());
        }

        Optional<Period> period() {
            return Optional.ofNullable(within)
                    .map(number -> "weeks".equals(unit) ? Period.ofWeeks(number) : Period.ofMonths(number));
        }
    }

    /** As whom the lead signs, and until when. */
    record SigningForm(
            @NotNull(message = "{caution.allowed.role}") @PlainText(max = 80) @Nullable
            String role,

            @NotNull(message = "{caution.allowed.reviewBy}") @DateRange(from = "P1D", to = "P3Y") @Nullable
            LocalDate reviewBy) {}

    /** That the whole table was read. */
    record ReadForm(
            @NotNull(message = "{caution.allowed.read}") @PlainText(max = 80) @Nullable
            String read) {}

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
    String table(Model model, Form form) {
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
        model.addAttribute("problems", form.byField());
        offerToSign(model, form.fields());
        return "caution/cautions";
    }

    @GetMapping("/{caution}/{method}")
    String cell(@PathVariable String caution, @PathVariable String method, Form form, Model model) {
        Caution of = caution(caution);
        Method by = method(method);
        FormFields values = form.fields();
        List<CautionRule> rules = tables.stored(current.id()).rules(of, by);
        for (int place = 0; place < Math.min(PLACES, rules.size()); place++) {
            CautionRule rule = rules.get(place);
            values.put("verdict" + place, rule.verdict().code());
            values.put("within" + place, rule.within().map(CautionPages::amount).orElse(""));
            values.put("unit" + place, rule.within().map(CautionPages::unit).orElse("months"));
            values.put("allClear" + place, rule.needsAllClear() ? "yes" : "");
            values.put("source" + place, rule.source());
        }
        return cell(model, of, by, form);
    }

    @PostMapping("/{caution}/{method}")
    String settle(
            @PathVariable String caution,
            @PathVariable String method,
            Form form,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Caution of = caution(caution);
        Method by = method(method);
        List<CautionRule> before = tables.stored(current.id()).rules(of, by);
        List<CautionRule> rules = new ArrayList<>();
        for (int place = 0; place < PLACES; place++) {
            Optional<CautionRule> as = place < before.size() ? Optional.of(before.get(place)) : Optional.empty();
            rule(form, place, of, by, as).ifPresent(rules::add);
        }
        Optional<Signing> signing = form.fields().get("signOff").isEmpty() ? Optional.empty() : signing(form);
        if (!form.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return cell(model, of, by, form);
        }
        Optional<Optional<CautionRefusal>> settled = edits.save(
                form.fields().get(FormVersion.FIELD),
                () -> version(of, by),
                () -> tables.settle(current.id(), of, by, rules, signing, current.who()));
        if (settled.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            model.addAttribute("changes", changes(of, by));
            return cell(model, of, by, form);
        }
        return done(settled.get(), redirect);
    }

    @PostMapping("/sign-off")
    String signAll(Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Optional<Signing> signing = signing(form);
        form.read(ReadForm.class);
        if (signing.isEmpty() || !form.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return table(model, form);
        }
        String version = form.fields().get(FormVersion.FIELD);
        return done(tables.signAll(current.id(), version, signing.get(), current.who()), redirect);
    }

    private Optional<Signing> signing(Form form) {
        SigningForm given = form.read(SigningForm.class);
        return form.clean()
                ? Optional.of(new Signing(current.practitionerId().orElse(null), given.role(), given.reviewBy()))
                : Optional.empty();
    }

    private String done(Optional<CautionRefusal> refusal, RedirectAttributes redirect) {
        if (refusal.isPresent()) {
            throw Refused.of(List.of(refusal.get()));
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/cautions";
    }

    /** Whether the account may sign, and a year as the next review (common practice, no source). */
    private void offerToSign(Model model, FormFields values) {
        model.addAttribute("maySign", current.practitionerId().isPresent());
        Map<String, String> shown = values.filled();
        shown.putIfAbsent("reviewBy", clock.today(current.id()).plusYears(1).toString());
        model.addAttribute("values", shown);
    }

    private String cell(Model model, Caution caution, Method method, Form form) {
        model.addAttribute("caution", caution);
        model.addAttribute("method", method);
        model.addAttribute("rules", tables.stored(current.id()).rules(caution, method));
        model.addAttribute("delivered", tables.delivered(caution, method));
        model.addAttribute("version", version(caution, method));
        model.addAttribute("problems", form.byField());
        offerToSign(model, form.fields());
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
            Form form, int place, Caution caution, Method method, Optional<CautionRule> before) {
        RuleForm given = form.read(RuleForm.class, name -> name + place);
        boolean more = given.somethingGiven(form.fields(), place);
        if (given.verdict() == null) {
            if (place == 0 || more) {
                form.missing("verdict" + place, place == 0 ? "caution.allowed.verdict" : "caution.allowed.rule");
            }
            return Optional.empty();
        }
        if (given.allClear() && given.within() == null) {
            form.missing("within" + place, "caution.allowed.within");
        }
        if (given.source() == null) {
            form.missing("source" + place, "caution.allowed.source");
            return Optional.empty();
        }
        Optional<Period> within = given.period();
        CautionRule now = new CautionRule(
                caution,
                method,
                given.verdict(),
                within,
                within.isPresent() && given.allClear(),
                given.source(),
                Mark.CHANGED_HERE);
        return Optional.of(before.filter(now::saysTheSameAs).orElse(now));
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
