package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.kit.web.KitWords;
import org.earslot.offers.WaitlistOffers;
import org.earslot.offers.web.OfferWords;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralRules;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A place that came free, with those it can be offered to; and the rules of the waiting list. */
@Controller
class GapPages {

    private final WaitlistOffers waitlistOffers;
    private final AppointmentPage page;
    private final ReferralPolicies policies;
    private final Edits edits;
    private final ReferralRules rules;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    GapPages(
            WaitlistOffers waitlistOffers,
            AppointmentPage page,
            ReferralPolicies policies,
            Edits edits,
            ReferralRules rules,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages,
            ApplicationEventPublisher events) {
        this.waitlistOffers = waitlistOffers;
        this.page = page;
        this.policies = policies;
        this.edits = edits;
        this.rules = rules;
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

    @GetMapping("/setup/waiting-list")
    String settled(Model model) {
        var policy = policies.of(current.id());
        return settled(
                model,
                Map.of(
                        "didNotAttendLimit", String.valueOf(policy.didNotAttendLimit()),
                        "shortNoticeDays", String.valueOf(policy.shortNoticeDays())),
                new Reading());
    }

    @PostMapping("/setup/waiting-list")
    String settle(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Integer> limit = reading.required(
                "didNotAttendLimit",
                reading.whole("didNotAttendLimit", typed.get("didNotAttendLimit"), 0, 9),
                "a whole number from 0 to 9");
        Optional<Integer> days = reading.required(
                "shortNoticeDays",
                reading.whole("shortNoticeDays", typed.get("shortNoticeDays"), 0, 28),
                "a whole number from 0 to 28");
        if (limit.isEmpty() || days.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return settled(model, typed, reading);
        }
        edits.save(typed.get(FormVersion.FIELD), this::version, () -> {
                    rules.settleWaiting(current.id(), limit.get(), days.get());
                    return true;
                })
                .orElseThrow(Refused::changedMeanwhile);
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/waiting-list";
    }

    private FormVersion version() {
        var policy = policies.of(current.id());
        return FormVersion.of(policy.didNotAttendLimit(), policy.shortNoticeDays());
    }

    private String settled(Model model, Map<String, String> values, Reading reading) {
        model.addAttribute("version", version());
        model.addAttribute("values", values);
        model.addAttribute("problems", reading.byField());
        return "offers/waiting-list";
    }
}
