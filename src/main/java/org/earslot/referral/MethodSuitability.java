package org.earslot.referral;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.ear.Method;
import org.springframework.stereotype.Service;

/** Which methods suit a referral on a date: expiring cautions are judged on the appointment's own date. */
@Service
public class MethodSuitability {

    private final CautionTables tables;
    private final MethodOverrides overrides;

    MethodSuitability(CautionTables tables, MethodOverrides overrides) {
        this.tables = tables;
        this.overrides = overrides;
    }

    /** Every method with its verdict by the clinic's table, in the order of the trade's list. */
    public List<Suitability> judge(UUID clinicId, ReferralDetails referral, LocalDate date) {
        return tables.of(clinicId).judge(referral, date);
    }

    /** One method with its verdict. */
    public Suitability judge(UUID clinicId, ReferralDetails referral, Method method, LocalDate date) {
        return tables.of(clinicId).judge(referral, method, date);
    }

    /** Whether the method may be used on that date: nothing forbids it, or a practitioner has overruled all that does. */
    public boolean allows(Referral referral, Method method, LocalDate date) {
        Suitability suits = judge(referral.clinicId(), referral.details(), method, date);
        return !suits.contraindicated() || overridden(referral, suits);
    }

    /** Whether a practitioner has overruled everything that forbids the method. */
    public boolean overridden(Referral referral, Suitability suits) {
        return overruling(referral, suits).isPresent();
    }

    /** The word of the practitioner who has overruled everything that forbids the method. */
    public Optional<MethodOverride> overruling(Referral referral, Suitability suits) {
        return overrides.standing(referral.clinicId(), referral.id()).stream()
                .filter(override -> override.overrules(suits))
                .findFirst();
    }
}
