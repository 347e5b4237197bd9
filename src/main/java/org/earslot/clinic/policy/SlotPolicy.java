package org.earslot.clinic.policy;

import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets by what slots are set, and takes the last such change back. */
@Service
public class SlotPolicy {

    private final Policies policies;
    private final SlotChanges changes;
    private final PolicyTermChanges termChanges;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    SlotPolicy(
            Policies policies,
            SlotChanges changes,
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
    public SlotTerms of(ClinicId clinicId) {
        return SlotTerms.of(policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms());
    }

    /** Puts {@code after} in force; false, and nothing done, if {@code before} no longer holds. */
    @Transactional
    public boolean apply(ClinicId clinicId, SlotTerms before, SlotTerms after, String who) {
        Policy policy = policies.findById(clinicId).orElseThrow();
        if (!SlotTerms.of(policy.terms()).equals(before)) {
            return false;
        }
        changes.save(new SlotChange(clinicId, before, after, who, clock.now()));
        settle(policy, after);
        announce(clinicId, "slots-changed", after);
        return true;
    }

    /** Counts on other minutes from finished to room ready; false, and nothing done, if {@code before} no longer holds. */
    @Transactional
    public boolean adoptTurnaround(ClinicId clinicId, Method method, int before, int minutes) {
        Policy policy = policies.findById(clinicId).orElseThrow();
        if (policy.turnaroundMinutes(method) != before) {
            return false;
        }
        Map<String, Double> terms = PolicyTermChanges.of(policy);
        policy.settle(policy.terms().withTurnaround(method, minutes));
        termChanges.note(clinicId, clock.now(), terms, PolicyTermChanges.of(policy));
        events.publishEvent(new Audited.Entry(
                clinicId,
                "policy-settled",
                "set-up",
                clinicId.toString(),
                "turnaround after " + method.code() + " from " + before + " to " + minutes + " min"));
        return true;
    }

    /** The last change, while what it put in force still holds. */
    @Transactional(readOnly = true)
    public Optional<SlotChange> undoable(ClinicId clinicId) {
        return changes.findFirstByClinicIdAndUndoneAtIsNullOrderByMadeAtDesc(clinicId)
                .filter(change -> change.after().equals(of(clinicId)));
    }

    /** Undoes a change; false if it was undone already or the policy was changed since. */
    @Transactional
    public boolean undo(ClinicId clinicId, UUID changeId, String who) {
        Policy policy = policies.findById(clinicId).orElseThrow();
        Optional<SlotChange> change = changes.findByClinicIdAndId(clinicId, changeId)
                .filter(made -> !made.isUndone() && made.after().equals(SlotTerms.of(policy.terms())));
        change.ifPresent(made -> {
            made.takeBack(who, clock.now());
            settle(policy, made.before());
            announce(clinicId, "slot-change-undone", made.before());
        });
        return change.isPresent();
    }

    private void settle(Policy policy, SlotTerms terms) {
        Map<String, Double> before = PolicyTermChanges.of(policy);
        policy.settle(policy.terms().with(terms));
        termChanges.note(policy.clinicId(), clock.now(), before, PolicyTermChanges.of(policy));
    }

    private void announce(ClinicId clinicId, String action, SlotTerms terms) {
        String adjusted = terms.adjustments().text();
        events.publishEvent(new Audited.Entry(
                clinicId,
                action,
                "set-up",
                clinicId.toString(),
                "accepted overruns " + terms.acceptedOverrunShare() + ", minutes beyond the estimate: "
                        + (adjusted.isEmpty() ? "none" : adjusted)));
    }
}
