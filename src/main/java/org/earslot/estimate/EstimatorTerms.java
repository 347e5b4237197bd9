package org.earslot.estimate;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Word;
import org.earslot.estimate.PastVisit.PastEar;
import org.jspecify.annotations.Nullable;

/**
 * Says a visit in the estimator's terms: what is paid once, and one part for each ear. The one place where ears become
 * terms.
 *
 * <p>Consistency, canal and depth are always terms, known or not. How much of the canal is blocked is one only where
 * this clinic records it, since a finding nobody ever writes down would be width and nothing else.
 */
public final class EstimatorTerms {

    /** Longer is implausible: the same limit as at import. */
    static final double LONGEST = 180;

    /** A call-in later than this is a slip of the booked start, not a reason to hurry. */
    private static final double MOST_LATENESS = 60;

    /** Cautions that slow the whole visit; every other one slows the work in an ear. */
    private static final Set<Caution> OF_THE_PERSON = EnumSet.of(Caution.NEEDS_SUPPORT, Caution.CANNOT_KEEP_STILL);

    /** Cautions that have priors and a place in past fits. Later ones are for safety and change no minutes. */
    private static final Set<Caution> LEARNT = EnumSet.range(Caution.PERFORATION, Caution.SOFTENER_ALLERGY);

    private final boolean occlusionRecorded;
    private final Map<OnceKey, List<Term>> onceLists = new HashMap<>();
    private final Map<PartKey, Part> parts = new HashMap<>();

    private record OnceKey(Answer firstVisit, Answer hearingAid, Set<Caution> cautions) {}

    private record PartKey(
            Ear ear,
            Method method,
            PastEar known,
            @Nullable Integer softenerDays,
            @Nullable Ear hand,
            Set<Caution> cautions) {}

    public EstimatorTerms(boolean occlusionRecorded) {
        this.occlusionRecorded = occlusionRecorded;
    }

    /** Whether how much of the canal is blocked is a term even where it is not known. */
    boolean occlusionRecorded() {
        return occlusionRecorded;
    }

    /**
     * A visit to come.
     *
     * @param practitioner the name the practitioner has in past visits, null for any of them
     * @param hand the practitioner's dominant hand, null where not known
     * @param day days since 1970-01-01
     */
    public VisitTerms plan(VisitPlan plan, @Nullable String practitioner, @Nullable Ear hand, long day) {
        List<Part> planned = new ArrayList<>();
        for (Ear ear : plan.ears().each()) {
            PastEar known = new PastEar(plan.reported(ear), EarFindings.UNKNOWN, List.of());
            planned.add(part(new PartKey(ear, plan.method(), known, plan.softenerDays(), hand, plan.cautions())));
        }
        List<Term> once = once(new OnceKey(plan.firstVisit(), plan.hearingAid(), plan.cautions()));
        return new VisitTerms(once, planned, practitioner, plan.patientRef(), plan.referrer(), day, 0);
    }

    /** A past visit with its minutes; empty if they are implausible. Not for use by several threads. */
    public Optional<VisitRow> row(PastVisit visit) {
        if (!(visit.minutes() > 0 && visit.minutes() <= LONGEST)) {
            return Optional.empty();
        }
        List<Part> treated = visit.ears().each().stream()
                .map(ear -> parts.computeIfAbsent(
                        new PartKey(
                                ear,
                                visit.method(),
                                visit.ear(ear),
                                visit.softenerDays(),
                                visit.dominantHand(),
                                visit.cautions()),
                        this::part))
                .toList();
        List<Term> once = onceLists.computeIfAbsent(
                new OnceKey(visit.firstVisit(), visit.hearingAid(), visit.cautions()), EstimatorTerms::once);
        VisitTerms terms = new VisitTerms(
                once,
                treated,
                visit.practitioner(),
                visit.patientRef(),
                visit.referrer(),
                visit.date().toEpochDay(),
                Math.min(MOST_LATENESS, Math.max(0, visit.lateness())));
        return Optional.of(terms.took(visit.minutes(), ending(visit.stopped())));
    }

    private static Ending ending(@Nullable StoppedEarly stopped) {
        if (stopped == null) {
            return Ending.COMPLETED;
        }
        return switch (stopped) {
            case NO -> Ending.COMPLETED;
            case COMFORT, SAFETY -> Ending.STOPPED_FOR_COMFORT;
            case TIME -> Ending.STOPPED_FOR_TIME;
        };
    }

    private static List<Term> once(OnceKey key) {
        List<Term> terms = new ArrayList<>();
        terms.add(answer(Factors.FIRST_VISIT, key.firstVisit()));
        terms.add(answer(Factors.HEARING_AID, key.hearingAid()));
        addCautions(key.cautions().stream().filter(OF_THE_PERSON::contains), terms);
        return List.copyOf(terms);
    }

    private Part part(PartKey key) {
        PastEar ear = key.known();
        List<Term> terms = new ArrayList<>();
        terms.add(finding(Factors.WAX, ear.reported().wax(), ear.found().wax()));
        terms.add(finding(Factors.CANAL, ear.reported().canal(), ear.found().canal()));
        terms.add(finding(Factors.DEPTH, ear.reported().depth(), ear.found().depth()));
        Word blocked = ear.reported().occlusion();
        if (occlusionRecorded || blocked != null) {
            terms.add(finding(Factors.OCCLUSION, blocked, ear.found().occlusion()));
        }
        terms.add(softener(key.softenerDays()));
        if (key.hand() != null) {
            terms.add(Term.level(Factors.FAR, key.hand() != key.ear() ? "yes" : "no"));
        } else {
            terms.add(Term.level(Factors.SIDE, key.ear().code()));
        }
        addCautions(key.cautions().stream().filter(caution -> !OF_THE_PERSON.contains(caution)), terms);
        List<String> used = ear.used().stream().map(Method::code).toList();
        return new Part(key.ear().code(), key.method().code(), used, terms);
    }

    private static void addCautions(Stream<Caution> cautions, List<Term> terms) {
        cautions.filter(LEARNT::contains)
                .sorted()
                .map(caution -> Term.level(Factors.caution(caution.code()), "yes"))
                .forEach(terms::add);
    }

    private static Term answer(String factor, Answer answer) {
        return answer == Answer.NOT_KNOWN ? Term.unknown(factor) : Term.level(factor, answer.code());
    }

    private static Term finding(String factor, @Nullable Word reported, @Nullable Word found) {
        return Term.found(factor, reported == null ? null : reported.code(), found == null ? null : found.code());
    }

    /** Days of softener in steps: its effect grows over the first days and hardly after a week. */
    private static Term softener(@Nullable Integer days) {
        if (days == null) {
            return Term.unknown(Factors.SOFTENER);
        }
        String level = days <= 0
                ? "none"
                : days <= 2 ? "days_1_2" : days <= 4 ? "days_3_4" : days <= 7 ? "days_5_7" : "days_8_more";
        return Term.level(Factors.SOFTENER, level);
    }
}
