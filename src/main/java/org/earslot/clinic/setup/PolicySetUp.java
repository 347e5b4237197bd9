package org.earslot.clinic.setup;

import java.util.Map;
import java.util.Optional;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.SetUpRefusal;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTermChanges;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotTerms;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets the policy of a clinic; each verb does its work whole, or says why not and changes nothing. */
@Service
public class PolicySetUp {

    private final Policies policies;
    private final PolicyTermChanges termChanges;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    PolicySetUp(Policies policies, PolicyTermChanges termChanges, ClinicClock clock, ApplicationEventPublisher events) {
        this.policies = policies;
        this.termChanges = termChanges;
        this.clock = clock;
        this.events = events;
    }

    /** Settles the policy; what some kinds of visit are given beyond their estimates stays, since it is set elsewhere. */
    @Transactional
    public Optional<SetUpRefusal> settle(ClinicId clinicId, PolicyTerms terms) {
        if (terms.leastSlotMinutes() > terms.mostSlotMinutes()) {
            return Optional.of(SetUpRefusal.slotsCrossed(terms.leastSlotMinutes(), terms.mostSlotMinutes()));
        }
        Policy policy = policies.findById(clinicId).orElseThrow();
        Map<String, Double> before = PolicyTermChanges.of(policy);
        policy.settle(terms.with(
                new SlotTerms(terms.acceptedOverrunShare(), policy.terms().slotAdjustments())));
        termChanges.note(clinicId, clock.now(), before, PolicyTermChanges.of(policy));
        return done(clinicId, "policy-settled", clinicId);
    }

    /** The terms in force. */
    @Transactional(readOnly = true)
    public PolicyTerms of(ClinicId clinicId) {
        return policies.findById(clinicId).orElseThrow().terms();
    }

    /** Whether offers weigh the whole list, or go to the end of what is booked. */
    @Transactional
    public Optional<SetUpRefusal> offerByWholeList(ClinicId clinicId, boolean whole) {
        policies.findById(clinicId).orElseThrow().offerByWholeList(whole);
        return done(clinicId, "policy-settled", clinicId);
    }

    private Optional<SetUpRefusal> done(ClinicId clinicId, String action, Object subject) {
        events.publishEvent(new Audited.Entry(clinicId, action, "set-up", subject.toString(), null));
        return Optional.empty();
    }
}
