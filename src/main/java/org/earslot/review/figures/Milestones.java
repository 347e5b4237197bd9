package org.earslot.review.figures;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.PolicyTermChanges;
import org.earslot.estimate.FitsInUse;
import org.springframework.stereotype.Component;

/** The days on which the policy changed, or estimates changed enough to show in slots. */
@Component
public class Milestones {

    /**
     * A fit is one where the time within which four in five of a kind are done has moved by so many minutes since the one
     * last named: less moves no slot on a grid of five minutes. The project's own choice.
     */
    static final double MOVED = 2;

    private final PolicyTermChanges terms;
    private final FitsInUse fits;

    Milestones(PolicyTermChanges terms, FitsInUse fits) {
        this.terms = terms;
        this.fits = fits;
    }

    /** Both ends included, the earliest first. */
    public List<Milestone> between(ClinicId clinicId, LocalDate first, LocalDate last, ZoneId zone) {
        Instant before = last.plusDays(1).atStartOfDay(zone).toInstant();
        List<Milestone> all = new ArrayList<>();
        for (PolicyTermChanges.Change change : terms.before(clinicId, before)) {
            boolean slot = change.term().startsWith(PolicyTermChanges.SLOT);
            all.add(new Milestone(
                    LocalDate.ofInstant(change.at(), zone),
                    slot ? "slot" : "policy",
                    slot ? change.term().substring(PolicyTermChanges.SLOT.length()) : change.term(),
                    change.before(),
                    change.after()));
        }
        all.addAll(moves(fits.before(clinicId, before), zone));
        return all.stream()
                .filter(milestone -> !milestone.on().isBefore(first))
                .sorted(Comparator.comparing(Milestone::on))
                .toList();
    }

    /** @param inUse the earliest first */
    static List<Milestone> moves(List<FitsInUse.Fit> inUse, ZoneId zone) {
        List<Milestone> moves = new ArrayList<>();
        Map<String, Double> named = new TreeMap<>();
        boolean first = true;
        for (FitsInUse.Fit fit : inUse) {
            LocalDate on = LocalDate.ofInstant(fit.since(), zone);
            if (first) {
                moves.add(new Milestone(on, "first_fit", "", null, null));
                first = false;
            }
            fit.fourInFive().forEach((kind, minutes) -> {
                Double before = named.putIfAbsent(kind, minutes);
                if (before != null && Math.abs(minutes - before) >= MOVED) {
                    moves.add(new Milestone(on, "estimator", kind, before, minutes));
                    named.put(kind, minutes);
                }
            });
        }
        return moves;
    }
}
