package org.earslot.clinic.policy;

import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets by what the lists of a clinic are set, and takes the last such change back. */
@Service
public class ListPolicy {

    private final Policies policies;
    private final PolicyChanges changes;
    private final PolicyTermChanges termChanges;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    ListPolicy(
            Policies policies,
            PolicyChanges changes,
            PolicyTermChanges termChanges,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.policies = policies;
        this.changes = changes;
        this.termChanges = termChanges;
        this.clock = clock;
        this.events = events;
    }

    /** The terms in force. */
    @Transactional(readOnly = true)
    public ListTerms of(ClinicId clinicId) {
        return ListTerms.of(policies.findById(clinicId).orElseGet(() -> Policy.starting(clinicId)));
    }

    /** Puts these terms in force. */
    @Transactional
    public void apply(ClinicId clinicId, ListTerms terms, String who) {
        Policy policy = policies.findById(clinicId).orElseThrow();
        changes.save(new PolicyChange(clinicId, ListTerms.of(policy), terms, who, clock.now()));
        settle(policy, terms);
        announce(clinicId, "policy-settled", terms);
    }

    /** The last change, while what it put in force still holds. */
    @Transactional(readOnly = true)
    public Optional<PolicyChange> undoable(ClinicId clinicId) {
        return changes.findFirstByClinicIdAndUndoneAtIsNullOrderByMadeAtDesc(clinicId)
                .filter(change -> change.after().equals(of(clinicId)));
    }

    /** Undoes a change; false if it was undone already or the policy was changed since. */
    @Transactional
    public boolean undo(ClinicId clinicId, UUID changeId) {
        Policy policy = policies.findById(clinicId).orElseThrow();
        Optional<PolicyChange> change = changes.findByClinicIdAndId(clinicId, changeId)
                .filter(made -> !made.isUndone() && made.after().equals(ListTerms.of(policy)));
        change.ifPresent(made -> {
            made.takeBack(clock.now());
            settle(policy, made.before());
            announce(clinicId, "policy-change-undone", made.before());
        });
        return change.isPresent();
    }

    private void settle(Policy policy, ListTerms terms) {
        Map<String, Double> before = PolicyTermChanges.of(policy);
        policy.settle(policy.terms().withAcceptedOvertimeShare(terms.acceptedOvertimeShare()));
        policy.weigh(terms.costs());
        termChanges.note(policy.clinicId(), clock.now(), before, PolicyTermChanges.of(policy));
    }

    private void announce(ClinicId clinicId, String action, ListTerms terms) {
        ListCosts costs = terms.costs();
        events.publishEvent(new Audited.Entry(
                clinicId,
                action,
                "set-up",
                clinicId.toString(),
                "accepted overtime " + terms.acceptedOvertimeShare() + ", a minute weighs: wait " + costs.waitMinute()
                        + ", idle " + costs.idleMinute() + ", overtime " + costs.overtimeMinute()));
    }
}
