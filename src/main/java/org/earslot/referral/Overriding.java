package org.earslot.referral;

import java.util.Optional;
import java.util.UUID;
import org.earslot.caution.CautionTables;
import org.earslot.caution.Suitability;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Method;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** A practitioner uses a method in spite of the table, for a reason; and takes that back. */
@Service
public class Overriding {

    private final MethodOverrides overrides;
    private final CautionTables tables;
    private final MethodSuitability suitability;
    private final Practitioners practitioners;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Overriding(
            MethodOverrides overrides,
            CautionTables tables,
            MethodSuitability suitability,
            Practitioners practitioners,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.overrides = overrides;
        this.tables = tables;
        this.suitability = suitability;
        this.practitioners = practitioners;
        this.clock = clock;
        this.events = events;
    }

    /** Overrides what forbids the method as of today; what comes up later is not overridden with it. */
    @Transactional
    public Optional<ReferralRefusal> override(
            Referral referral, Method method, UUID practitionerId, String reason, String who) {
        ClinicId clinicId = referral.clinicId();
        Suitability suits = suitability.judge(referral, method, clock.today(clinicId));
        if (!suits.contraindicated()) {
            return Optional.of(ReferralRefusal.NOTHING_TO_OVERRIDE);
        }
        boolean holds = practitioners
                .findByClinicIdAndId(clinicId, practitionerId)
                .filter(Practitioner::active)
                .filter(practitioner -> practitioner.methods().contains(method))
                .isPresent();
        if (!holds) {
            return Optional.of(ReferralRefusal.METHOD_NOT_HELD);
        }
        overrides.save(new MethodOverride(
                referral, suits, tables.of(clinicId).version(), reason, practitionerId, who, clock.now()));
        announce(referral, "method-overridden", method.code() + ": " + Codes.joined(suits.forbiddenBy()));
        return Optional.empty();
    }

    /** Takes an override back; false where there is no such one of this referral. */
    @Transactional
    public boolean withdraw(Referral referral, UUID overrideId) {
        Optional<MethodOverride> standing = overrides.standing(referral.clinicId(), referral.id()).stream()
                .filter(one -> one.id().equals(overrideId))
                .findFirst();
        standing.ifPresent(one -> {
            one.withdraw(clock.now());
            announce(referral, "method-override-withdrawn", one.method().code());
        });
        return standing.isPresent();
    }

    private void announce(Referral referral, String action, String detail) {
        events.publishEvent(new Audited.Entry(
                        referral.clinicId(), action, "referral", referral.id().toString(), detail)
                .about(referral.patientId()));
    }
}
