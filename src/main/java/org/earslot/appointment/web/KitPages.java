package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.InstrumentSet;
import org.earslot.clinic.kit.InstrumentSets;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.kit.KitUnit;
import org.earslot.clinic.kit.KitUnits;
import org.earslot.clinic.kit.StockItems;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.earslot.kit.KitForecast;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The kit: where each set is, the morning's count, where it will not reach; and the lead's list of what there is. */
@Controller
class KitPages {

    private final Kit kit;
    private final KitUnits units;
    private final Edits edits;
    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final StockItems stock;
    private final Rooms rooms;
    private final KitForecast forecast;
    private final AppointmentPage page;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    KitPages(
            Kit kit,
            KitUnits units,
            Edits edits,
            InstrumentKinds kinds,
            InstrumentSets sets,
            StockItems stock,
            Rooms rooms,
            KitForecast forecast,
            AppointmentPage page,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.kit = kit;
        this.units = units;
        this.edits = edits;
        this.kinds = kinds;
        this.sets = sets;
        this.stock = stock;
        this.rooms = rooms;
        this.forecast = forecast;
        this.page = page;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping("/kit")
    String show(Model model) {
        return show(model, new Reading());
    }

    @PostMapping("/kit/kinds/{id}/start")
    String start(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String cycle,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<String> number = reading.required("cycle", reading.text("cycle", cycle, 40), "the cycle's number");
        if (number.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(model, reading);
        }
        return done(kit.startCycle(current.id(), id, number.get()) > 0, redirect);
    }

    @PostMapping("/kit/kinds/{id}/end")
    String end(@PathVariable UUID id, @RequestParam(defaultValue = "") String passed, RedirectAttributes redirect) {
        return done(kit.endCycle(current.id(), id, passed.equals("yes")) > 0, redirect);
    }

    @PostMapping("/kit/sets/{id}/dirty")
    String dirty(@PathVariable UUID id, RedirectAttributes redirect) {
        return done(kit.soil(current.id(), id), redirect);
    }

    @PostMapping("/kit/stock/{id}")
    String count(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String counted,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Integer> found = reading.required(
                "counted", reading.whole("counted", counted, 0, 9999), "a whole number from 0 to 9999");
        if (found.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(model, reading);
        }
        return done(kit.count(current.id(), id, found.get(), current.who()), redirect);
    }

    /** Lays a clean set out for a patient: set and cycle are kept with the appointment. */
    @PostMapping("/appointments/{id}/sets")
    String use(@PathVariable UUID id, @RequestParam(defaultValue = "") String set, RedirectAttributes redirect) {
        page.appointment(id);
        Reading reading = new Reading();
        UUID chosen = reading.required("set", reading.id("set", set), "a clean set")
                .orElseThrow(() -> Refused.invalid(reading.problems()));
        if (!kit.use(current.id(), chosen, id, current.who())) {
            throw Refused.conflict("set-not-clean", messages.say("appointment.refused.setNotClean"));
        }
        redirect.addFlashAttribute("notice", messages.say("kit.kit.used"));
        return "redirect:/appointments/" + id;
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
            return settled(Optional.empty(), reading, typed, model, redirect, response);
        }
        boolean active = id.isEmpty() || typed.containsKey("active");
        Supplier<Optional<Problem>> change =
                () -> kit.unit(current.id(), id, name.get(), method.orElse(null), room.orElse(null), active);
        Optional<KitUnit> known = id.flatMap(this::unit);
        Optional<Optional<Problem>> done = known.isEmpty()
                ? Optional.of(change.get())
                : edits.save(
                        typed.get(FormVersion.FIELD), () -> version(known.get().id()), change);
        if (done.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            String now = unit(known.get().id()).map(KitUnit::name).orElse("");
            model.addAttribute("changes", List.of(new ChangedField(messages.say("kit.kit.name"), now, false)));
            return setUp(model, typed, List.of());
        }
        return settled(done.get(), reading, typed, model, redirect, response);
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
        Optional<Method> method = reading.required("method", method(reading, typed), "a method");
        Optional<Integer> sets = number(reading, typed, "sets", 1, 99);
        Optional<Integer> cycle = number(reading, typed, "cycleMinutes", 1, 240);
        Optional<Integer> test = number(reading, typed, "testMinutes", 0, 120);
        return settled(
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
        return settled(
                reading.clean() ? kit.item(current.id(), name.orElseThrow(), least.orElseThrow()) : Optional.empty(),
                reading,
                typed,
                model,
                redirect,
                response);
    }

    private String settled(
            Optional<Problem> refusal,
            Reading reading,
            Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        refusal.ifPresent(
                problem -> reading.problem(problem.field(), problem.given(), problem.allowed(), problem.remedy()));
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return setUp(model, typed, reading.problems());
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/kit";
    }

    private String setUp(Model model, Map<String, String> typed, List<Problem> problems) {
        lists(model);
        model.addAttribute("typed", typed);
        model.addAttribute("problems", problems);
        model.addAttribute("methods", Method.values());
        return "kit/kit-setup";
    }

    private String show(Model model, Reading reading) {
        lists(model);
        model.addAttribute("zone", clock.zone(current.id()));
        model.addAttribute("today", clock.today(current.id()));
        model.addAttribute("ahead", forecast.ahead(current.id()));
        model.addAttribute("problems", reading.byField());
        return "kit/kit";
    }

    private void lists(Model model) {
        UUID clinic = current.id();
        model.addAttribute("units", units.findByClinicIdOrderByName(clinic));
        model.addAttribute("kinds", kinds.findByClinicIdOrderByName(clinic));
        model.addAttribute(
                "setsOf",
                sets.findByClinicIdOrderByNumber(clinic).stream()
                        .collect(Collectors.groupingBy(InstrumentSet::kindId)));
        model.addAttribute("stock", stock.findByClinicIdOrderByName(clinic));
        model.addAttribute("rooms", rooms.findByClinicIdOrderByName(clinic));
    }

    private String done(boolean done, RedirectAttributes redirect) {
        if (!done) {
            throw Refused.conflict("kit-moved-on", messages.say("appointment.refused.kitMovedOn"));
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/kit";
    }

    private static Optional<String> name(Reading reading, Map<String, String> typed) {
        return reading.required("name", reading.text("name", typed.get("name"), 80), "a name");
    }

    private static Optional<Method> method(Reading reading, Map<String, String> typed) {
        return reading.word("method", typed.get("method"), Method::of, Word.codes(Method.values()));
    }

    private static Optional<Integer> number(
            Reading reading, Map<String, String> typed, String field, int least, int most) {
        return reading.required(
                field,
                reading.whole(field, typed.get(field), least, most),
                "a whole number from " + least + " to " + most);
    }
}
