package org.earslot.appointment.web;

import java.util.Objects;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.kit.web.KitWords;
import org.earslot.offers.WaitlistOffers;
import org.earslot.offers.web.OfferWords;
import org.earslot.page.Messages;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** A place that came free, with those it can be offered to. */
@Controller
class GapPages {

    private final WaitlistOffers waitlistOffers;
    private final AppointmentPage page;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    GapPages(
            WaitlistOffers waitlistOffers,
            AppointmentPage page,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages,
            ApplicationEventPublisher events) {
        this.waitlistOffers = waitlistOffers;
        this.page = page;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
        this.events = events;
    }

    @GetMapping("/appointments/{id}/gap")
    String show(@PathVariable UUID id, Model model) {
        Appointment appointment = page.appointment(id);
        var fits = waitlistOffers.fits(current.id(), id);
        model.addAttribute("appointment", appointment);
        model.addAttribute(
                "start", clock.local(current.id(), appointment.place().start()));
        model.addAttribute("open", waitlistOffers.open(appointment));
        model.addAttribute("fits", fits);
        model.addAttribute("words", new OfferWords(messages));
        model.addAttribute("kitWords", new KitWords(messages));
        model.addAttribute(
                "starts",
                fits.stream()
                        .map(WaitlistOffers.Fit::booked)
                        .filter(Objects::nonNull)
                        .collect(Collectors.toMap(
                                Appointment::id,
                                later -> clock.local(current.id(), later.place().start()))));
        events.publishEvent(Audited.viewed(
                current.id(),
                "gap",
                fits.stream().map(fit -> fit.patient().id()).toList()));
        return "offers/gap";
    }
}
