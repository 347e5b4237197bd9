package org.earslot.referral.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.earslot.caution.CautionTables;
import org.earslot.caution.PatientCautions;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.page.DateRange;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.Forms;
import org.earslot.referral.MethodOverrides;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referral;
import org.earslot.referral.SoftenerRule;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** Cautions and the methods that they allow on the page of a referral. */
@Component
class MethodSection {

    /** The date that methods are judged on. */
    record JudgedOn(
            @DateRange(from = "-P1Y", to = "P2Y") @Nullable LocalDate on) {}

    private final MethodSuitability suitability;
    private final PatientCautions cautions;
    private final CautionTables tables;
    private final MethodOverrides overrides;
    private final SoftenerRule softener;
    private final ClinicClock clock;
    private final Forms forms;

    MethodSection(
            MethodSuitability suitability,
            PatientCautions cautions,
            CautionTables tables,
            MethodOverrides overrides,
            SoftenerRule softener,
            ClinicClock clock,
            Forms forms) {
        this.suitability = suitability;
        this.cautions = cautions;
        this.tables = tables;
        this.overrides = overrides;
        this.softener = softener;
        this.clock = clock;
        this.forms = forms;
    }

    /** Judged on the date asked for, else on the first day it could be booked. */
    void add(Model model, Referral referral, Map<String, String> typed) {
        ClinicId clinic = referral.clinicId();
        LocalDate today = clock.today(clinic);
        LocalDate first = referral.details().request().notBefore() != null
                        && today.isBefore(referral.details().request().notBefore())
                ? referral.details().request().notBefore()
                : today;
        Form form = forms.of(FormFields.single(typed));
        LocalDate asked = form.read(JudgedOn.class).on();
        LocalDate on = asked == null || !form.clean() ? first : asked;
        List<Suitability> judged = suitability.judge(referral, on);
        model.addAttribute("on", on);
        model.addAttribute("suitability", judged);
        model.addAttribute(
                "softener",
                softener.advice(referral, referral.details().request().ears(), on));
        model.addAttribute(
                "overridden",
                judged.stream()
                        .filter(suits -> suits.contraindicated() && suitability.overridden(referral, suits))
                        .map(Suitability::method)
                        .collect(Collectors.toSet()));
        model.addAttribute("overrides", overrides.standing(clinic, referral.id()));
        model.addAttribute(
                "known",
                cautions.summary(
                        clinic, referral.patientId(), referral.details().cautions(), today));
        model.addAttribute("tableVersion", tables.of(clinic).version());
    }
}
