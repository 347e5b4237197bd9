package org.earslot.review.advice;

import java.time.YearMonth;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.Fits;
import org.earslot.estimate.VisitPlan;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.review.figures.PastMonths;
import org.earslot.review.figures.Scope;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Works out what to change after a month, and what other slots would have done to it. Of the whole clinic. */
@Service
public class MonthChanges {

    /** The evidence is that of so many months up to the end of the reviewed one. */
    public static final int MONTHS = 12;

    private final KindVisits kinds;
    private final PastMonths months;
    private final Estimates estimates;
    private final Fits fits;
    private final ReferralQuestions questions;
    private final Turnarounds turnarounds;

    MonthChanges(
            KindVisits kinds,
            PastMonths months,
            Estimates estimates,
            Fits fits,
            ReferralQuestions questions,
            Turnarounds turnarounds) {
        this.kinds = kinds;
        this.months = months;
        this.estimates = estimates;
        this.fits = fits;
        this.questions = questions;
        this.turnarounds = turnarounds;
    }

    /** What to change after {@code month}. */
    @Transactional(readOnly = true)
    public WhatToChange after(ClinicId clinicId, YearMonth month) {
        PolicyTerms terms = months.terms(clinicId);
        PastSlots slots = slots(clinicId);
        // On assumptions alone the slots change with the first fit; until then there is nothing to hold them against.
        boolean learnt = !estimates.version(clinicId).equals(Estimate.ASSUMED);
        Map<SlotKind, SlotEvidence> evidence = learnt ? evidence(clinicId, month, slots, terms) : new TreeMap<>();
        Map<SlotKind, SlotAdvice> advice = new TreeMap<>();
        evidence.forEach((kind, seen) -> advice.put(
                kind,
                SlotAdvice.of(
                        seen,
                        terms,
                        terms.slotAdjustments().of(kind),
                        evidence.size(),
                        () -> against(clinicId, kind, month))));
        Map<SlotKind, ReplayEffect> effects = new TreeMap<>();
        SlotTerms all = SlotTerms.of(terms);
        List<SlotKind> advised = advice.keySet().stream()
                .filter(kind ->
                        advice.get(kind).beyond() != terms.slotAdjustments().of(kind))
                .toList();
        ReplayEffect together = null;
        if (!advised.isEmpty()) {
            MonthReplay replay = replay(clinicId, month);
            for (SlotKind kind : advised) {
                SlotTerms then = SlotTerms.of(terms).with(kind, advice.get(kind).beyond());
                effects.put(kind, effect(replay, slots, terms, then));
                all = all.with(kind, advice.get(kind).beyond());
            }
            together = advised.size() < 2 ? null : effect(replay, slots, terms, all);
        }
        List<SlotLine> lines = new ArrayList<>();
        evidence.forEach((kind, seen) -> {
            int beyond = terms.slotAdjustments().of(kind);
            SlotAdvice told = advice.get(kind);
            lines.add(SlotLine.of(
                    kind,
                    seen.longer(terms, beyond),
                    seen.slots(terms, beyond),
                    beyond,
                    seen.slots(terms, told.beyond()),
                    told,
                    effects.get(kind)));
        });
        return new WhatToChange(
                month,
                terms.acceptedOverrunShare(),
                learnt,
                List.copyOf(lines),
                together,
                questions.upTo(clinicId, month),
                fits.inForce(clinicId)
                        .map(fit -> ReferrersWords.of(fit.learnt()))
                        .orElse(List.of()),
                turnarounds.between(clinicId, month.minusMonths(MONTHS - 1).atDay(1), month.atEndOfMonth(), terms),
                SlotTerms.of(terms));
    }

    /** What slots set by {@code then} would have done to {@code month}. */
    @Transactional(readOnly = true)
    public ReplayEffect tried(ClinicId clinicId, YearMonth month, SlotTerms then) {
        return effect(replay(clinicId, month), slots(clinicId), months.terms(clinicId), then);
    }

    /** What slots as the policy in force gives them would have done to {@code month}, in place of those booked. */
    @Transactional(readOnly = true)
    public ReplayEffect byPolicy(ClinicId clinicId, YearMonth month) {
        PolicyTerms terms = months.terms(clinicId);
        PastSlots slots = slots(clinicId);
        return replay(clinicId, month).with(visit -> slots.given(visit, terms));
    }

    private static ReplayEffect effect(MonthReplay replay, PastSlots slots, PolicyTerms now, SlotTerms then) {
        PolicyTerms other = now.with(then);
        return replay.with(visit -> slots.instead(visit, now, other));
    }

    /** The real lists of the month. */
    MonthReplay replay(ClinicId clinicId, YearMonth month) {
        return new MonthReplay(months.of(clinicId, month, Scope.EVERYONE).lists());
    }

    private PastSlots slots(ClinicId clinicId) {
        List<SlotKind> all = SlotKind.all();
        List<MinutesDistribution> times = estimates.timesInRoom(
                clinicId,
                all.stream()
                        .map(kind -> VisitPlan.of(kind.method(), kind.exampleEars()))
                        .toList());
        Map<SlotKind, MinutesDistribution> usual = new LinkedHashMap<>();
        for (int i = 0; i < all.size(); i++) {
            usual.put(all.get(i), times.get(i));
        }
        return new PastSlots(usual);
    }

    private Map<SlotKind, SlotEvidence> evidence(
            ClinicId clinicId, YearMonth month, PastSlots slots, PolicyTerms terms) {
        Map<SlotKind, SlotEvidence> evidence = new TreeMap<>();
        for (SlotKind kind : SlotKind.all()) {
            SlotEvidence seen = kinds.latest(
                    clinicId, kind, month.minusMonths(MONTHS - 1).atDay(1), month.atEndOfMonth(), slots, terms);
            if (!seen.taken().isEmpty()) {
                evidence.put(kind, seen);
            }
        }
        return evidence;
    }

    private List<String> against(ClinicId clinicId, SlotKind kind, YearMonth month) {
        return kinds.outcomes(
                        clinicId,
                        kind,
                        month.minusMonths(MONTHS - 1).atDay(1),
                        month.minusMonths(MONTHS / 2 - 1).atDay(1),
                        month.atEndOfMonth())
                .againstShorter();
    }
}
