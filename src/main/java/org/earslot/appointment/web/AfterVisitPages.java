package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.aftercare.FollowUpReferrals;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.FoundCautions;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.Findings;
import org.earslot.day.RunningDay;
import org.earslot.day.SecondTry;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Word;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A second try on the day, and what follows the visit. */
@Controller
class AfterVisitPages {

    private static final String BY_THE_CHAIR = "hasAnyRole('PRACTITIONER', 'LEAD')";

    private final AppointmentPage page;
    private final RunningDay running;
    private final SecondTry secondTry;
    private final FollowUpReferrals followUps;
    private final FoundCautions found;
    private final CurrentClinic current;
    private final Messages messages;

    AfterVisitPages(
            AppointmentPage page,
            RunningDay running,
            SecondTry secondTry,
            FollowUpReferrals followUps,
            FoundCautions found,
            CurrentClinic current,
            Messages messages) {
        this.page = page;
        this.running = running;
        this.secondTry = secondTry;
        this.followUps = followUps;
        this.found = found;
        this.current = current;
        this.messages = messages;
    }

    @PostMapping("/appointments/{id}/step-out")
    @PreAuthorize(BY_THE_CHAIR)
    String stepOut(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        String done = answered(
                secondTry.stepOut(current.id(), id), id, "booking.notice.steppedOut", model, redirect, response);
        return backToList(done, id, back);
    }

    @PostMapping("/appointments/{id}/call-in-again")
    @PreAuthorize(BY_THE_CHAIR)
    String callInAgain(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        String done = answered(
                secondTry.callInAgain(current.id(), id), id, "booking.notice.calledInAgain", model, redirect, response);
        return backToList(done, id, back);
    }

    /** What the practitioner decides: enough, come again, refer on. */
    @PostMapping("/appointments/{id}/next-step")
    @PreAuthorize(BY_THE_CHAIR)
    String nextStep(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        NextStep step = reading.requiredWord("step", typed.get("step"), NextStep::of, NextStep.values())
                .orElseThrow(() -> Refused.invalid(reading.problems()));
        return answered(
                running.recordFindings(current.id(), id, Findings.of(Map.of(), step), current.who()),
                id,
                "booking.notice.decided",
                model,
                redirect,
                response);
    }

    /** Accepts that an adverse event is a complication with the method, and so a caution of the patient. */
    @PostMapping("/appointments/{id}/complication")
    @PreAuthorize(BY_THE_CHAIR)
    String complication(@PathVariable UUID id, @RequestParam Map<String, String> typed, RedirectAttributes redirect) {
        Appointment appointment = page.appointment(id);
        Reading reading = new Reading();
        Optional<Ear> ear = reading.required(
                "ear",
                reading.word("ear", typed.get("ear"), Ear::of, Word.codes(Ear.values())),
                "appointment.allowed.ear");
        Optional<Method> method = reading.required(
                "method",
                reading.word("method", typed.get("method"), Method::of, Word.codes(Method.values())),
                "appointment.allowed.method");
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        boolean accepted = page.visit(appointment)
                .filter(visit ->
                        found.accept(current.id(), id, visit, ear.orElseThrow(), method.orElseThrow(), current.who()))
                .isPresent();
        if (!accepted) {
            throw Refused.conflict("no-complication", "appointment.complication.gone");
        }
        redirect.addFlashAttribute("notice", messages.say("appointment.complication.added"));
        return "redirect:/appointments/" + id;
    }

    /** Makes the referral that follows, and goes to it. */
    @PostMapping("/appointments/{id}/follow-up")
    String followUp(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Appointment appointment = page.appointment(id);
        Reading reading = new Reading();
        Optional<Method> method = reading.requiredWord("method", typed.get("method"), Method::of, Method.values());
        Optional<Integer> days = reading.whole("softenerDays", typed.get("softenerDays"), 0, 60);
        boolean softener = days.orElse(0) == 0 || followUps.softenerMayBeUsed(appointment);
        if (!softener) {
            reading.refuse("softenerDays", typed.get("softenerDays"), "appointment.next.noSoftener");
        }
        if (!reading.clean() || method.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.show(model, id, typed, reading.byField());
        }
        boolean nothingNew = typed.containsKey("nothingNew");
        if (nothingNew) {
            current.practitionerId().orElseThrow(Refused::noPractitioner);
        }
        Referral referral = followUps
                .make(appointment, method.get(), days.orElse(0), nothingNew, current.who())
                .orElseThrow(() -> Refused.conflict("nothing-to-follow", "appointment.next.notOpen"));
        redirect.addFlashAttribute("notice", messages.say("booking.notice.followUp"));
        return "redirect:/referrals/" + referral.id();
    }

    /** To the running list where the press came from there. */
    private String backToList(String done, UUID id, @Nullable String back) {
        if (!"now".equals(back) || !done.startsWith("redirect:")) {
            return done;
        }
        BookedPlace place = page.appointment(id).place();
        return "redirect:/day/" + place.date() + "/now?practitioner=" + place.practitionerId();
    }

    private String answered(
            BookingResult result,
            UUID id,
            String notice,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        if (result instanceof NotDone no) {
            if (Reason.status(no.refusals()) == HttpServletResponse.SC_NOT_FOUND) {
                throw Refused.of(no.refusals());
            }
            response.setStatus(Reason.status(no.refusals()));
            model.addAttribute("refused", messages.say(no.refusals()));
            return page.show(model, id);
        }
        redirect.addFlashAttribute("notice", messages.say(notice));
        return "redirect:/appointments/" + id;
    }
}
