package org.earslot.booking.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.setup.SessionSetUp;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
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

    private final SessionSetUp sessionSetUp;
    private final Sessions sessions;
    private final CurrentClinic current;
    private final Messages messages;
    private final CoverView view;

    CoverPages(SessionSetUp sessionSetUp, Sessions sessions, CurrentClinic current, Messages messages, CoverView view) {
        this.sessionSetUp = sessionSetUp;
        this.sessions = sessions;
        this.current = current;
        this.messages = messages;
        this.view = view;
    }

    /** The sessions of a day, and after one was covered the visits still booked with whoever is absent. */
    @GetMapping
    String show(@RequestParam Map<String, String> asked, Model model) {
        return view.show(asked, model, new Reading());
    }

    @PostMapping
    String cover(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        LocalDate date = view.date(typed, reading);
        Optional<UUID> practitioner = reading.required(
                "practitioner",
                reading.id("practitioner", typed.get("practitioner")),
                "booking.cover.allowed.practitioner");
        Optional<String> reason = reading.required(
                "reason", reading.text("reason", typed.get("reason"), 200), "booking.cover.allowed.reason");
        Optional<ClinicSession> session = sessions.on(current.id(), date).stream()
                .filter(one -> one.key().equals(typed.get("session")))
                .findFirst();
        reading.required("session", session, "booking.cover.allowed.session");
        if (reading.clean()) {
            sessionSetUp
                    .cover(current.id(), session.orElseThrow(), practitioner.orElseThrow(), reason.orElseThrow())
                    .ifPresent(refusal -> reading.add(Problem.of(refusal)));
        }
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return view.show(typed, model, reading);
        }
        redirect.addFlashAttribute("notice", messages.say("booking.cover.done"));
        return "redirect:/setup/cover?date=" + date + "&absent="
                + session.orElseThrow().practitionerId() + "&cover=" + practitioner.orElseThrow();
    }
}
