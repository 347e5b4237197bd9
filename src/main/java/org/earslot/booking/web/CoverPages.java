package org.earslot.booking.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Cover;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.setup.SessionSetUp;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Cover for a session: another practitioner holds it, and the visits are handed over one by one. */
@Controller
@RequestMapping("/setup/cover")
class CoverPages {

    private final Cover cover;
    private final SessionSetUp sessionSetUp;
    private final Sessions sessions;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    CoverPages(
            Cover cover,
            SessionSetUp sessionSetUp,
            Sessions sessions,
            Practitioners practitioners,
            Rooms rooms,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages,
            ApplicationEventPublisher events) {
        this.cover = cover;
        this.sessionSetUp = sessionSetUp;
        this.sessions = sessions;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
        this.events = events;
    }

    /** The sessions of a day, and after one was covered the visits still booked with whoever is absent. */
    @GetMapping
    String show(@RequestParam Map<String, String> asked, Model model) {
        return show(asked, model, new Reading());
    }

    @PostMapping
    String cover(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        LocalDate date = date(typed, reading);
        Optional<UUID> practitioner = reading.required(
                "practitioner",
                reading.id("practitioner", typed.get("practitioner")),
                messages.say("booking.cover.allowed.practitioner"));
        Optional<String> reason = reading.required(
                "reason",
                reading.text("reason", typed.get("reason"), 200),
                messages.say("booking.cover.allowed.reason"));
        Optional<ClinicSession> session = sessions.on(current.id(), date).stream()
                .filter(one -> one.key().equals(typed.get("session")))
                .findFirst();
        reading.required("session", session, messages.say("booking.cover.allowed.session"));
        if (reading.clean()) {
            sessionSetUp
                    .cover(current.id(), session.orElseThrow(), practitioner.orElseThrow(), reason.orElseThrow())
                    .ifPresent(refusal -> reading.problem(refusal, messages));
        }
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(typed, model, reading);
        }
        redirect.addFlashAttribute("notice", messages.say("booking.cover.done"));
        return "redirect:/setup/cover?date=" + date + "&absent="
                + session.orElseThrow().practitionerId() + "&cover=" + practitioner.orElseThrow();
    }

    private String show(Map<String, String> asked, Model model, Reading reading) {
        UUID clinic = current.id();
        LocalDate date = date(asked, reading);
        Reading ids = new Reading();
        Optional<UUID> absent = ids.id("absent", asked.get("absent"));
        Optional<UUID> taker = ids.id("cover", asked.get("cover"));
        if (!ids.clean()) {
            throw Refused.invalid(ids.problems());
        }
        model.addAttribute("date", date);
        model.addAttribute("sessions", sessions.on(clinic, date));
        model.addAttribute(
                "practitioners",
                practitioners.findByClinicIdOrderByName(clinic).stream()
                        .collect(Collectors.toMap(
                                Practitioner::id, Function.identity(), (a, b) -> a, LinkedHashMap::new)));
        model.addAttribute(
                "roomNames",
                rooms.findByClinicIdOrderByName(clinic).stream().collect(Collectors.toMap(Room::id, Room::name)));
        model.addAttribute("typed", asked);
        model.addAttribute("problems", reading.byField());
        model.addAttribute("absent", absent.orElse(null));
        model.addAttribute("cover", taker.orElse(null));
        model.addAttribute("zone", clock.zone(clinic));
        if (absent.isPresent() && taker.isPresent()) {
            var visits = cover.visits(clinic, date, absent.get(), taker.get());
            model.addAttribute("visits", visits);
            List<UUID> named = visits.stream()
                    .flatMap(visit -> visit.appointment().patientId().stream())
                    .toList();
            events.publishEvent(Audited.viewed(clinic, "cover", named));
        }
        return "booking/cover";
    }

    private LocalDate date(Map<String, String> asked, Reading reading) {
        LocalDate today = clock.today(current.id());
        return reading.date("date", asked.get("date"), today, today.plusYears(1))
                .orElse(today);
    }
}
