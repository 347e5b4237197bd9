package org.earslot.review;

import java.time.YearMonth;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.estimate.Fits;
import org.earslot.review.MonthSummaries.Ground;
import org.earslot.review.MonthSummaries.Part;
import org.earslot.review.advice.ChangeFindings;
import org.earslot.review.advice.MonthChanges;
import org.earslot.review.advice.WhatToChange;
import org.earslot.review.figures.Scope;
import org.earslot.visit.VisitLogRevision;
import org.springframework.stereotype.Service;

/**
 * Says what to change after a month: as it was kept while all that it rests on is the same, else worked out anew. It rests
 * on the visits of the months of evidence, the sessions and names of the month, the policy, and the fit in force.
 */
@Service
public class KeptChanges {

    private final MonthChanges changes;
    private final MonthParts parts;
    private final MonthSummaries summaries;
    private final VisitLogRevision past;
    private final Policies policies;
    private final Fits fits;

    KeptChanges(
            MonthChanges changes,
            MonthParts parts,
            MonthSummaries summaries,
            VisitLogRevision past,
            Policies policies,
            Fits fits) {
        this.changes = changes;
        this.parts = parts;
        this.summaries = summaries;
        this.past = past;
        this.policies = policies;
        this.fits = fits;
    }

    private record Grounds(Ground ground, SlotTerms slots) {}

    /** What to change after {@code month}; whoever asks first waits until it is worked out. */
    public WhatToChange after(UUID clinicId, YearMonth month) {
        if (!past.settled(month)) {
            return changes.after(clinicId, month);
        }
        Grounds grounds = grounds(clinicId, month);
        return standing(clinicId, month, grounds).orElseGet(() -> {
            WhatToChange told = changes.after(clinicId, month);
            // Were one of them changed meanwhile and later changed back, what was worked out between would seem to
            // hold.
            if (grounds(clinicId, month).equals(grounds)) {
                summaries.keep(clinicId, Scope.EVERYONE, month, Part.CHANGE, grounds.ground(), ChangeFindings.of(told));
            }
            return told;
        });
    }

    /** The same where it is kept and still holds; empty where it would have to be worked out. */
    public Optional<WhatToChange> kept(UUID clinicId, YearMonth month) {
        return past.settled(month) ? standing(clinicId, month, grounds(clinicId, month)) : Optional.empty();
    }

    private Optional<WhatToChange> standing(UUID clinicId, YearMonth month, Grounds grounds) {
        return Optional.ofNullable(summaries
                        .standing(clinicId, Scope.EVERYONE, Part.CHANGE, new TreeMap<>(Map.of(month, grounds.ground())))
                        .get(month))
                .map(kept -> kept.under(grounds.slots()));
    }

    private Grounds grounds(UUID clinicId, YearMonth month) {
        PolicyTerms terms = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
        String version = fits.versionInForce(clinicId).orElse("");
        return new Grounds(
                parts.ground(clinicId, month, MonthChanges.MONTHS, terms + "\n" + version), SlotTerms.of(terms));
    }
}
