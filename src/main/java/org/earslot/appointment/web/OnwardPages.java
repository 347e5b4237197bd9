package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.aftercare.OnwardReferrals;
import org.earslot.aftercare.web.OnwardForm;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.visit.Visit;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What the letter to the next service says. */
@Controller
class OnwardPages {

    private final AppointmentPage page;
    private final OnwardForm form;
    private final OnwardReferrals onward;
    private final Edits edits;
    private final CurrentClinic current;
    private final Messages messages;

    OnwardPages(
            AppointmentPage page,
            OnwardForm form,
            OnwardReferrals onward,
            Edits edits,
            CurrentClinic current,
            Messages messages) {
        this.page = page;
        this.form = form;
        this.onward = onward;
        this.edits = edits;
        this.current = current;
        this.messages = messages;
    }

    @PostMapping("/appointments/{id}/referred-on")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String referredOn(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Optional<Visit> visit = page.visit(page.appointment(id));
        Reading reading = new Reading();
        OnwardReferrals.Details details = OnwardForm.read(typed, reading);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        UUID of = visit.map(Visit::id)
                .orElseThrow(() -> Refused.conflict("not-referred-on", "aftercare.onward.notDecided"));
        Optional<Boolean> recorded = edits.save(
                typed.get(FormVersion.FIELD),
                () -> {
                    onward.hold(current.id(), of);
                    return form.version(visit);
                },
                () -> onward.record(current.id(), of, details, current.who()));
        if (recorded.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            String shown = page.show(model, id);
            form.showChanged(model, visit, typed, messages);
            return shown;
        }
        if (!recorded.get()) {
            throw Refused.conflict("not-referred-on", "aftercare.onward.notDecided");
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/appointments/" + id;
    }
}
