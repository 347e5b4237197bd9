package org.earslot.kit.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.SetUpRefusal;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.kit.KitUnit;
import org.earslot.clinic.kit.KitUnits;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What kit there is, which the lead sets. */
@Controller
class KitSetUpPages {

    private final Kit kit;
    private final KitUnits units;
    private final KitInventory inventory;
    private final Edits edits;
    private final CurrentClinic current;
    private final Messages messages;

    KitSetUpPages(
            Kit kit, KitUnits units, KitInventory inventory, Edits edits, CurrentClinic current, Messages messages) {
        this.kit = kit;
        this.units = units;
        this.inventory = inventory;
        this.edits = edits;
        this.current = current;
        this.messages = messages;
    }

    @GetMapping("/setup/kit")
    String setUp(Model model) {
        return setUp(model, Map.of(), List.of());
    }

    @PostMapping("/setup/kit/units")
    String unit(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<UUID> id = reading.id("id", typed.get("id"));
        Optional<String> name = name(reading, typed);
        Optional<Method> method = method(reading, typed);
        Optional<UUID> room = reading.id("room", typed.get("room"));
        if (!reading.clean() || name.isEmpty()) {
            return answered(Optional.empty(), reading, typed, model, redirect, response);
        }
        boolean active = id.isEmpty() || typed.containsKey("active");
        Supplier<Optional<SetUpRefusal>> change =
                () -> kit.unit(current.id(), id, name.get(), method.orElse(null), room.orElse(null), active);
        Optional<KitUnit> known = id.flatMap(this::unit);
        Optional<Optional<SetUpRefusal>> done = known.isEmpty()
                ? Optional.of(change.get())
                : edits.save(
                        typed.get(FormVersion.FIELD), () -> version(known.get().id()), change);
        if (done.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            String now = unit(known.get().id()).map(KitUnit::name).orElse("");
            model.addAttribute("changes", List.of(new ChangedField(messages.say("kit.kit.name"), now, false)));
            return setUp(model, typed, List.of());
        }
        return answered(done.get(), reading, typed, model, redirect, response);
    }

    private Optional<KitUnit> unit(UUID id) {
        return units.findByClinicIdAndId(current.id(), id);
    }

    private FormVersion version(UUID id) {
        return FormVersion.of(unit(id).orElseThrow().version());
    }

    @PostMapping("/setup/kit/kinds")
    String kind(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<String> name = name(reading, typed);
        Optional<Method> method = reading.required("method", method(reading, typed), "kit.allowed.method");
        Optional<Integer> sets = number(reading, typed, "sets", 1, 99);
        Optional<Integer> cycle = number(reading, typed, "cycleMinutes", 1, 240);
        Optional<Integer> test = number(reading, typed, "testMinutes", 0, 120);
        return answered(
                reading.clean()
                        ? kit.kind(
                                current.id(),
                                name.orElseThrow(),
                                method.orElseThrow(),
                                sets.orElseThrow(),
                                cycle.orElseThrow(),
                                test.orElseThrow())
                        : Optional.empty(),
                reading,
                typed,
                model,
                redirect,
                response);
    }

    @PostMapping("/setup/kit/stock")
    String item(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<String> name = name(reading, typed);
        Optional<Integer> least = number(reading, typed, "least", 0, 9999);
        return answered(
                reading.clean() ? kit.item(current.id(), name.orElseThrow(), least.orElseThrow()) : Optional.empty(),
                reading,
                typed,
                model,
                redirect,
                response);
    }

    private String answered(
            Optional<SetUpRefusal> refusal,
            Reading reading,
            Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        refusal.ifPresent(reason -> reading.add(Problem.of(reason)));
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return setUp(model, typed, reading.problems());
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/kit";
    }

    private String setUp(Model model, Map<String, String> typed, List<Problem> problems) {
        inventory.show(model);
        model.addAttribute("typed", typed);
        model.addAttribute("problems", problems);
        model.addAttribute("methods", Method.values());
        return "kit/kit-setup";
    }

    private Optional<String> name(Reading reading, Map<String, String> typed) {
        return reading.required("name", reading.text("name", typed.get("name"), 80), "kit.allowed.name");
    }

    private static Optional<Method> method(Reading reading, Map<String, String> typed) {
        return reading.word("method", typed.get("method"), Method::of, Word.codes(Method.values()));
    }

    private static Optional<Integer> number(
            Reading reading, Map<String, String> typed, String field, int least, int most) {
        return reading.requiredWhole(field, typed.get(field), least, most);
    }
}
