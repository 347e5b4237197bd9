package org.earslot.referral.web;

import jakarta.servlet.http.HttpSession;
import java.io.Serializable;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientSearch;
import org.earslot.patient.PatientSearch.Found;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralAppointments.Booked;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Finding a patient, from the head of every page. The search is posted and kept in the session, so that no name stands in an
 * address.
 */
@Controller
@RequestMapping("/patients")
class PatientSearchPages {

    private static final String SEARCHES = "patient-searches";

    private final PatientSearch search;
    private final ReferralAppointments appointments;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    PatientSearchPages(
            PatientSearch search,
            ReferralAppointments appointments,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.search = search;
        this.appointments = appointments;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    /**
     * One patient who was found.
     *
     * @param next the next appointment, if there is one
     * @param age in full years, if the date of birth is known
     * @param comesToday whether the next appointment is today's
     */
    record Hit(
            Patient patient,
            @Nullable Booked next,
            @Nullable Integer age,
            boolean comesToday) {}

    /** The latest searches of a session by the keys that stand in addresses, the oldest first. */
    record Searches(LinkedHashMap<UUID, String> byKey) implements Serializable {

        private static final int KEPT = 20;

        static final Searches NONE = new Searches(new LinkedHashMap<>());

        Optional<String> of(UUID key) {
            return Optional.ofNullable(byKey.get(key));
        }

        Searches with(UUID key, String sought) {
            LinkedHashMap<UUID, String> all = new LinkedHashMap<>(byKey);
            all.put(key, sought);
            if (all.size() > KEPT) {
                all.remove(all.keySet().iterator().next());
            }
            return new Searches(all);
        }
    }

    /** A search made before; without one, an empty page. */
    @GetMapping
    String show(@RequestParam(name = "search") Optional<UUID> key, HttpSession session, Model model) {
        String sought = key.flatMap(searches(session)::of).orElse("");
        model.addAttribute("sought", sought);
        if (!sought.isEmpty()) {
            addHits(model, find(sought));
        }
        return "referral/patients";
    }

    /** Leads to the patient who is meant, else to those found; the address names the search, never what was sought. */
    @PostMapping
    String search(@RequestParam(defaultValue = "") String sought, HttpSession session, RedirectAttributes redirect) {
        Found found = find(sought);
        if (found.patients().size() == 1 && !found.misspelt()) {
            return "redirect:/patients/" + found.patients().get(0).id();
        }
        UUID key = UUID.randomUUID();
        session.setAttribute(SEARCHES, searches(session).with(key, sought.strip()));
        redirect.addAttribute("search", key);
        return "redirect:/patients";
    }

    private static Searches searches(HttpSession session) {
        return session.getAttribute(SEARCHES) instanceof Searches made ? made : Searches.NONE;
    }

    private Found find(String sought) {
        return search.find(current.id(), sought, clock.today(current.id()));
    }

    private void addHits(Model model, Found found) {
        LocalDate today = clock.today(current.id());
        List<UUID> ids = found.patients().stream().map(Patient::id).toList();
        Map<UUID, Booked> next = appointments.next(current.id(), ids);
        model.addAttribute("today", today);
        model.addAttribute("found", found);
        model.addAttribute(
                "hits",
                found.patients().stream()
                        .map(one -> hit(one, next.get(one.id()), today))
                        .toList());
        if (!ids.isEmpty()) {
            events.publishEvent(Audited.viewed(current.id(), "patient search", ids));
        }
    }

    private static Hit hit(Patient patient, @Nullable Booked next, LocalDate today) {
        return new Hit(
                patient,
                next,
                patient.details().ageOn(today).orElse(null),
                next != null && next.start().toLocalDate().equals(today));
    }
}
