package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.ListCosts;
import org.earslot.clinic.policy.ListPolicy;
import org.earslot.clinic.policy.ListTerms;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.setup.PolicySetUp;
import org.earslot.estimate.FitsInUse;
import org.earslot.review.ListedVisit;
import org.earslot.testing.PageTest;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

@PageTest
class MilestonesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

    @Autowired
    private Milestones milestones;

    @Autowired
    private PolicySetUp policySetUp;

    @Autowired
    private ListPolicy listPolicy;

    @Autowired
    private Policies policies;

    @Autowired
    private TestClinics clinics;

    @Test
    void names_each_term_that_was_settled_otherwise_and_when_it_was_taken_back() {
        ClinicId clinic = clinics.open().id();
        PolicyTerms terms = policies.findById(clinic).orElseThrow().terms();
        assertThat(policySetUp.settle(clinic, terms)).isEmpty();
        assertThat(on(clinic, DAY)).isEmpty();
        PolicyTerms more = new PolicyTerms(
                terms.gridMinutes(),
                0.3,
                terms.acceptedOvertimeShare(),
                terms.leastSlotMinutes(),
                terms.mostSlotMinutes(),
                terms.waitLimitMinutes(),
                terms.earlyAllowanceMinutes(),
                terms.irrigationTurnaroundMinutes(),
                7,
                terms.manualRemovalTurnaroundMinutes());
        assertThat(policySetUp.settle(clinic, more)).isEmpty();
        assertThat(on(clinic, DAY))
                .containsExactly(
                        new Milestone(DAY, "policy", "acceptedOverrunShare", 0.25, 0.3),
                        new Milestone(DAY, "policy", "microsuctionTurnaroundMinutes", 4.0, 7.0));
        listPolicy.apply(clinic, new ListTerms(0.1, ListCosts.STARTING), "lead");
        Optional<UUID> change = listPolicy.undoable(clinic).map(one -> one.id());
        assertThat(listPolicy.undo(clinic, change.orElseThrow())).isTrue();
        assertThat(on(clinic, DAY))
                .endsWith(
                        new Milestone(DAY, "policy", "acceptedOvertimeShare", 0.2, 0.1),
                        new Milestone(DAY, "policy", "acceptedOvertimeShare", 0.1, 0.2));
        assertThat(on(clinic, DAY.plusDays(1))).isEmpty();
        assertThat(on(clinics.open().id(), DAY)).isEmpty();
    }

    @Test
    void names_a_fit_only_where_the_minutes_have_moved_since_the_last_named() {
        List<FitsInUse.Fit> fits = List.of(
                fit("2026-01-05T03:00:00Z", Map.of("microsuction.1", 20.0)),
                fit("2026-01-06T03:00:00Z", Map.of("microsuction.1", 21.5, "irrigation.2", 30.0)),
                fit("2026-01-07T03:00:00Z", Map.of("microsuction.1", 22.1, "irrigation.2", 29.0)),
                fit("2026-01-08T03:00:00Z", Map.of("microsuction.1", 23.0, "irrigation.2", 26.0)));
        assertThat(Milestones.moves(fits, ListedVisit.LONDON))
                .containsExactly(
                        new Milestone(LocalDate.of(2026, 1, 5), "first_fit", "", null, null),
                        new Milestone(LocalDate.of(2026, 1, 7), "estimator", "microsuction.1", 20.0, 22.1),
                        new Milestone(LocalDate.of(2026, 1, 8), "estimator", "irrigation.2", 30.0, 26.0));
    }

    private List<Milestone> on(ClinicId clinic, LocalDate day) {
        return milestones.between(clinic, day, day.plusDays(30), ListedVisit.LONDON);
    }

    private static FitsInUse.Fit fit(String since, Map<String, Double> fourInFive) {
        return new FitsInUse.Fit(Instant.parse(since), since, fourInFive);
    }
}
