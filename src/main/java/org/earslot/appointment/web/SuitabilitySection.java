package org.earslot.appointment.web;

import org.earslot.booking.Appointment;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;
import org.earslot.page.Messages;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referrals;
import org.earslot.referral.SoftenerRule;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** How the method suits on the date of the appointment, and the softener before it. */
@Component
class SuitabilitySection {

    private final Referrals referrals;
    private final MethodSuitability suitability;
    private final SoftenerRule softener;
    private final SuitabilityCheck suitabilityCheck;
    private final Messages messages;

    SuitabilitySection(
            Referrals referrals,
            MethodSuitability suitability,
            SoftenerRule softener,
            SuitabilityCheck suitabilityCheck,
            Messages messages) {
        this.referrals = referrals;
        this.suitability = suitability;
        this.softener = softener;
        this.suitabilityCheck = suitabilityCheck;
        this.messages = messages;
    }

    void show(Model model, Appointment appointment) {
        ClinicId clinic = appointment.clinicId();
        Method method = appointment.planned().method();
        if (method != null) {
            appointment
                    .referralId()
                    .flatMap(id -> referrals.findByClinicIdAndId(clinic, id))
                    .ifPresent(referral -> {
                        Suitability suits = suitability.judge(
                                referral, method, appointment.place().date());
                        model.addAttribute("suits", suits);
                        model.addAttribute(
                                "suitsEars", referral.details().request().ears());
                        model.addAttribute("said", referral.details());
                        model.addAttribute(
                                "softener",
                                softener.advice(
                                        referral,
                                        referral.details().request().ears(),
                                        appointment.place().date()));
                        model.addAttribute(
                                "worse",
                                suitabilityCheck
                                        .sinceBooked(clinic, appointment.id())
                                        .filter(worse -> appointment.status().toCome())
                                        .map(worse -> worse.say(messages, "offers.worse.sinceBooked"))
                                        .orElse(null));
                        model.addAttribute("overridden", suitability.overridden(referral, suits));
                    });
        }
    }
}
