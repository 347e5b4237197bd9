package org.earslot.referral.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralStatus;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The page of a referral, shown again when something on it is refused. */
@Component
class ReferralPage {

    private final ClinicReferrals referrals;
    private final RedFlagSection redFlags;
    private final MethodSection suitability;
    private final ReferralAppointments appointments;
    private final Messages messages;

    ReferralPage(
            ClinicReferrals referrals,
            RedFlagSection redFlags,
            MethodSection suitability,
            ReferralAppointments appointments,
            Messages messages) {
        this.referrals = referrals;
        this.redFlags = redFlags;
        this.suitability = suitability;
        this.appointments = appointments;
        this.messages = messages;
    }

    /**
     * @param typed what was typed into a form that is refused
     * @param problems by field
     */
    String show(Model model, UUID id, Map<String, String> typed, Map<String, Problem> problems) {
        Referral referral = referrals.referral(id);
        Patient patient = referrals.patient(referral.patientId());
        LocalDate today = referrals.today();
        model.addAttribute("referral", referral);
        model.addAttribute("said", referral.details());
        model.addAttribute("patient", patient);
        model.addAttribute("appointments", appointments.of(referrals.clinicId(), id));
        model.addAttribute("today", today);
        model.addAttribute("titleOf", patient.displayName());
        model.addAttribute("child", child(patient.details(), today));
        model.addAttribute("age", patient.details().ageOn(today).orElse(null));
        suitability.add(model, referral, typed);
        redFlags.add(model, referral);
        model.addAttribute("values", typed);
        model.addAttribute("problems", problems);
        referrals.viewed("referral", List.of(referral.patientId()));
        return "referral/referral";
    }

    /** To the page, with a notice of what was done. */
    String done(UUID id, String notice, RedirectAttributes redirect) {
        redirect.addFlashAttribute("notice", messages.say(notice));
        return "redirect:/referrals/" + id;
    }

    /** Likewise; to the search for a slot if that was asked for ({@code slots}) and nothing stops the booking. */
    String done(UUID id, String notice, String then, RedirectAttributes redirect) {
        ReferralStatus status = referrals.referral(id).status();
        boolean bookable = status == ReferralStatus.READY_TO_BOOK || status == ReferralStatus.WAITING;
        String page = done(id, notice, redirect);
        return then.equals("slots") && bookable ? "redirect:/slots?referral=" + id : page;
    }

    /** A child of whom it is not known who consents or who comes along. */
    private static boolean child(PatientDetails person, LocalDate today) {
        return person.isChildOn(today) && (person.consentBy() == null || person.comesWith() == null);
    }
}
