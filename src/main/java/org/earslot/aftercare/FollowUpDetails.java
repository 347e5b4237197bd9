package org.earslot.aftercare;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.FoundCautions;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.earslot.visit.Visit;
import org.jspecify.annotations.Nullable;

/**
 * What the referral that follows a visit says: what was found is known now, the rest stays as reported; cautions known
 * before and cautions found count alike.
 *
 * @param before what the referral of the visit said; null for one without, as with a fit-in
 * @param lasting the cautions known of the patient, from this visit and from earlier ones
 */
record FollowUpDetails(Visit visit, @Nullable ReferralDetails before, List<AskedCaution> lasting, LocalDate today) {

    /** The ears that are not clear; empty if all are. */
    static Optional<Ears> open(Visit visit) {
        boolean right = open(visit, Ear.RIGHT);
        boolean left = open(visit, Ear.LEFT);
        if (right && left) {
            return Optional.of(Ears.BOTH);
        }
        return right ? Optional.of(Ears.RIGHT) : left ? Optional.of(Ears.LEFT) : Optional.empty();
    }

    private static boolean open(Visit visit, Ear ear) {
        return visit.outcome(ear)
                .filter(outcome -> switch (outcome) {
                    case RESIDUAL, NOT_REMOVED, NOT_ATTEMPTED, UNSUITABLE_ON_DAY -> true;
                    case CLEAR, NO_WAX -> false;
                })
                .isPresent();
    }

    /** Every caution known, each once: those of the referral, those of the patient, those found at the visit. */
    List<AskedCaution> cautions() {
        List<AskedCaution> all =
                new ArrayList<>(before == null ? List.of() : before.cautions().yes());
        all.addAll(lasting);
        all.addAll(FoundCautions.of(visit));
        Map<List<Object>, AskedCaution> once = new LinkedHashMap<>();
        all.forEach(one -> once.merge(
                List.of(one.caution(), String.valueOf(one.ear()), String.valueOf(one.method())),
                one,
                FollowUpDetails::later));
        return List.copyOf(once.values());
    }

    /** Codes of cautions that are not known here: of the referral, or found at the visit. */
    List<UnknownCode> unknown() {
        return Stream.concat(
                        before == null ? Stream.of() : before.cautions().unknown().stream(),
                        visit.unknownCautions().stream())
                .distinct()
                .toList();
    }

    private static AskedCaution later(AskedCaution one, AskedCaution other) {
        if (one.since() == null || other.since() == null) {
            return one.since() == null ? one : other;
        }
        return other.since().isAfter(one.since()) ? other : one;
    }

    /**
     * The referral for these ears by that method.
     *
     * @param notBefore the first day on which it may be booked; null for any
     */
    ReferralDetails by(Method method, Ears ears, @Nullable LocalDate notBefore) {
        VisitRequest first = before == null ? VisitRequest.routine(ears, method) : before.request();
        VisitRequest request = new VisitRequest(
                first.reason(),
                Priority.ROUTINE,
                ears,
                method,
                Answer.NO,
                null,
                notBefore,
                told(ears),
                first.mustFollow(),
                first.mustFollowBy(),
                first.shortNotice());
        return new ReferralDetails(
                new ReferralSource(visit.referrer().orElse(null), today, Origin.REFERRAL),
                request,
                new ReportedEars(known(Ear.RIGHT), known(Ear.LEFT)),
                answers(),
                RedFlagAnswers.NOT_ASKED);
    }

    private CautionAnswers answers() {
        CautionAnswers earlier = before == null ? CautionAnswers.NOT_ASKED : before.cautions();
        CautionAnswers yes = new CautionAnswers(earlier.asked(), cautions());
        Set<Caution> confirmed = yes.confirmed();
        Set<Caution> notKnown = earlier.notKnown().stream()
                .filter(caution -> !confirmed.contains(caution))
                .collect(Collectors.toUnmodifiableSet());
        return new CautionAnswers(yes.asked(), yes.yes(), notKnown, unknown());
    }

    private EarFindings known(Ear ear) {
        return completed(visit.found(ear), visit.reported(ear));
    }

    /** "2026-03-04: right irrigation, irrigation, residual": codes, as a note for whoever reads the referral. */
    private String told(Ears ears) {
        List<String> told = new ArrayList<>();
        for (Ear ear : ears.each()) {
            List<String> words = new ArrayList<>(visit.methods(ear).stream()
                    .map(method -> method.code().replace('_', ' '))
                    .toList());
            visit.outcome(ear).ifPresent(outcome -> words.add(outcome.code().replace('_', ' ')));
            told.add(ear.code() + ": " + String.join(", ", words));
        }
        return visit.date() + ", " + String.join("; ", told);
    }

    private static EarFindings completed(EarFindings found, EarFindings reported) {
        return new EarFindings(
                found.wax() == null ? reported.wax() : found.wax(),
                found.canal() == null ? reported.canal() : found.canal(),
                found.depth() == null ? reported.depth() : found.depth(),
                found.occlusion() == null ? reported.occlusion() : found.occlusion());
    }
}
