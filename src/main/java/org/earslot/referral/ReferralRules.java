package org.earslot.referral;

import java.util.function.Consumer;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The lead settles the rules of referrals. */
@Service
public class ReferralRules {

    private final ReferralPolicies policies;
    private final ApplicationEventPublisher events;

    ReferralRules(ReferralPolicies policies, ApplicationEventPublisher events) {
        this.policies = policies;
        this.events = events;
    }

    /** Recalls hearing-aid wearers after 3 or 6 months, or never (0). */
    @Transactional
    public void recallAfter(ClinicId clinicId, int months) {
        settle(clinicId, policy -> policy.recallAfter(months), "recall-settled", months + " months");
    }

    /** Settles the waiting list: see {@link ReferralPolicy#settleWaiting}. */
    @Transactional
    public void settleWaiting(ClinicId clinicId, int closeAfterMissed, int daysOfNotice) {
        settle(
                clinicId,
                policy -> policy.settleWaiting(closeAfterMissed, daysOfNotice),
                "waiting-list-settled",
                closeAfterMissed + " missed, " + daysOfNotice + " days");
    }

    private void settle(ClinicId clinicId, Consumer<ReferralPolicy> change, String action, String detail) {
        ReferralPolicy policy = policies.of(clinicId);
        change.accept(policy);
        policies.save(policy);
        events.publishEvent(new Audited.Entry(clinicId, action, "set-up", clinicId.toString(), detail));
    }
}
