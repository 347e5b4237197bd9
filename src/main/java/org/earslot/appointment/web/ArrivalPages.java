package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.ArrivalQuestions;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.Forms;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlags;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** "Anything new since we booked?" with the whole list, for whoever was never asked or has something to say. */
@Controller
@RequestMapping("/appointments/{id}/arrival")
class ArrivalPages {

    private final AppointmentPage page;
    private final ArrivalQuestions questions;
    private final RedFlags redFlags;
    private final OpenRedFlags openRedFlags;
    private final CurrentClinic current;
    private final Forms forms;
    private final Messages messages;

    ArrivalPages(
            AppointmentPage page,
            ArrivalQuestions questions,
            RedFlags redFlags,
            OpenRedFlags openRedFlags,
            CurrentClinic current,
            Forms forms,
            Messages messages) {
        this.page = page;
        this.questions = questions;
        this.redFlags = redFlags;
        this.openRedFlags = openRedFlags;
        this.current = current;
        this.forms = forms;
        this.messages = messages;
    }

    /** The questions; another kind of visit has none, so its page is shown. */
    @GetMapping
    String ask(@PathVariable UUID id, Model model) {
        if (page.appointment(id).planned().method() == null) {
            return "redirect:/appointments/" + id;
        }
        return show(model, id, Map.of(), new Reading());
    }

    @PostMapping
    String answer(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        if (page.appointment(id).planned().method() == null) {
            throw Refused.notFound("wax-visit");
        }
        Reading reading = new Reading();
        Form form = forms.of(FormFields.single(typed));
        RedFlagAnswers given = RedFlagAnswers.read(form);
        reading.add(form.problems());
        if (reading.clean() && !given.complete() && !given.stop()) {
            reading.refuse("noneFlagged", "", "appointment.arrival.each");
        }
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(model, id, typed, reading);
        }
        BookingResult result = questions.answer(current.id(), id, given, current.who());
        if (result instanceof NotDone no) {
            response.setStatus(Reason.status(no.refusals()));
            model.addAttribute("refused", messages.say(no.refusals()));
            return page.show(model, id);
        }
        Appointment appointment = page.appointment(id);
        if (given.stop() && appointment.referralId().isPresent()) {
            redirect.addFlashAttribute("notice", tell(appointment));
            return "redirect:/referrals/" + appointment.referralId().get();
        }
        redirect.addFlashAttribute("notice", messages.say("booking.notice.arrival"));
        return "redirect:/day/" + appointment.place().date();
    }

    private String tell(Appointment appointment) {
        return appointment
                .patientId()
                .flatMap(patient ->
                        openRedFlags.of(current.id(), patient).stream().findFirst())
                .flatMap(openRedFlags::clinician)
                .map(clinician -> messages.say("booking.notice.arrival.tell", clinician))
                .orElseGet(() -> messages.say("booking.notice.arrival.tellAnyone"));
    }

    private String show(Model model, UUID id, Map<String, String> typed, Reading reading) {
        Appointment appointment = page.appointment(id);
        page.showNames(model, appointment);
        model.addAttribute("appointment", appointment);
        model.addAttribute("here", appointment.times().arrived() != null);
        model.addAttribute("stillToAsk", questions.stillToAsk(appointment));
        model.addAttribute("flagTexts", redFlags.texts(current.id()));
        model.addAttribute("typed", typed);
        model.addAttribute("problems", reading.byField());
        return "appointment/arrival";
    }
}
