package org.earslot.estimate;

import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.springframework.stereotype.Component;

/** What is chosen for a clinic's next fit. */
@Component
class CurrentChoices {

    private final StoredVisits visits;
    private final Policies policies;
    private final LeadKnowledge knowledge;

    CurrentChoices(StoredVisits visits, Policies policies, LeadKnowledge knowledge) {
        this.visits = visits;
        this.policies = policies;
        this.knowledge = knowledge;
    }

    FitChoices of(ClinicId clinicId) {
        Policy policy = policies.findById(clinicId).orElseGet(() -> Policy.starting(clinicId));
        return FitChoices.now(
                        visits.occlusionRecorded(clinicId), 1 - policy.terms().acceptedOverrunShare())
                .saying(knowledge.answers(clinicId));
    }
}
