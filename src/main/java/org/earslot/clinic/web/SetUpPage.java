package org.earslot.clinic.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.DayOfWeek;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.SessionExceptions;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.setup.SetUp;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Set-up: who works here, where, when, and by which policy. */
@Controller
@RequestMapping("/setup")
class SetUpPage {

    private final SetUp setUp;
    private final SetUpRows rows;
    private final Edits edits;
    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions weekly;
    private final SessionExceptions exceptions;
    private final Policies policies;
    private final OtherVisitKinds kinds;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    SetUpPage(
            SetUp setUp,
            SetUpRows rows,
            Edits edits,
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions weekly,
            SessionExceptions exceptions,
            Policies policies,
            OtherVisitKinds kinds,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.setUp = setUp;
        this.rows = rows;
        this.edits = edits;
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.weekly = weekly;
        this.exceptions = exceptions;
        this.policies = policies;
        this.kinds = kinds;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping
    String show(Model model) {
        return page(model, SubmittedForm.NOTHING, List.of());
    }

    /** Every form of the page comes here: {@code section} and, for a row already there, its id. */
    @PostMapping({"/{section}", "/{section}/{id}"})
    String change(
            @PathVariable String section,
            @PathVariable Optional<UUID> id,
            @RequestParam MultiValueMap<String, String> given,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        SubmittedForm typed = SubmittedForm.in(section, id.map(UUID::toString).orElse(""), given);
        Optional<List<Problem>> carriedOut = carryOut(typed, section, id);
        List<Problem> problems = carriedOut.orElse(List.of());
        if (carriedOut.isEmpty() || !problems.isEmpty()) {
            response.setStatus(
                    carriedOut.isEmpty() ? HttpServletResponse.SC_CONFLICT : HttpServletResponse.SC_BAD_REQUEST);
            if (carriedOut.isEmpty()) {
                rows.find(section, id).ifPresent(row -> model.addAttribute("changes", rows.changes(row, typed)));
            }
            return page(model, typed, problems);
        }
        redirect.addFlashAttribute("notice", messages.say("clinic.notice.saved"));
        return "redirect:/setup#" + section;
    }

    /** What is wrong; empty if somebody else has changed the row since the page was opened. */
    private Optional<List<Problem>> carryOut(SubmittedForm typed, String section, Optional<UUID> id) {
        SetUpReading reading = new SetUpReading(typed, current.id(), clock.today(current.id()));
        if (rows.find(section, id).isEmpty()) {
            return Optional.of(reading.carryOut(setUp, id));
        }
        return edits.save(
                typed.get(FormVersion.FIELD),
                () -> rows.find(section, id).orElseThrow().version(),
                () -> reading.carryOut(setUp, id));
    }

    private String page(Model model, SubmittedForm typed, List<Problem> problems) {
        UUID clinicId = current.id();
        List<Practitioner> staff = practitioners.findByClinicIdOrderByName(clinicId);
        List<Room> places = rooms.findByClinicIdOrderByName(clinicId);
        model.addAttribute("typed", typed);
        model.addAttribute("problems", problems);
        model.addAttribute("clinic", clinics.findById(clinicId).orElseThrow());
        model.addAttribute("practitioners", staff);
        model.addAttribute("rooms", places);
        model.addAttribute(
                "practitionerById", staff.stream().collect(Collectors.toMap(Practitioner::id, Function.identity())));
        model.addAttribute("roomById", places.stream().collect(Collectors.toMap(Room::id, Function.identity())));
        model.addAttribute(
                "sessions",
                weekly.findByClinicId(clinicId).stream()
                        .filter(session -> session.validTo()
                                .map(last -> !last.isBefore(clock.today(clinicId)))
                                .orElse(true))
                        .sorted(Comparator.comparing(WeeklySession::day)
                                .thenComparing(session -> session.span().from()))
                        .toList());
        model.addAttribute(
                "exceptions",
                exceptions.findByClinicIdAndDateBetween(
                        clinicId, clock.today(clinicId), clock.today(clinicId).plusYears(2)));
        Policy policy = policies.findById(clinicId).orElseThrow();
        model.addAttribute("policyVersion", policy.version());
        model.addAttribute("policy", policy.terms());
        model.addAttribute("offers", policy.offersWeighList() ? "list" : "end");
        model.addAttribute("kinds", kinds.findByClinicIdOrderByName(clinicId));
        model.addAttribute("methods", Method.values());
        model.addAttribute("hands", Ear.values());
        model.addAttribute("weekdays", DayOfWeek.values());
        model.addAttribute("today", clock.today(clinicId));
        return "clinic/setup";
    }
}
