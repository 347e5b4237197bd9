package org.earslot.referral;

import java.util.ArrayList;
import java.util.List;
import org.earslot.caution.CautionAnswers;
import org.earslot.clinic.ChangedFields;

/**
 * What a referral says.
 *
 * @param source where it comes from
 * @param request the visit that is asked for
 * @param reported what was reported of each ear
 * @param cautions what was answered about cautions
 * @param redFlags what was said of red flags
 */
public record ReferralDetails(
        ReferralSource source,
        VisitRequest request,
        ReportedEars reported,
        CautionAnswers cautions,
        RedFlagAnswers redFlags) {

    /** A referral with nothing reported and no question asked. */
    public static ReferralDetails unasked(ReferralSource source, VisitRequest request) {
        return new ReferralDetails(
                source, request, ReportedEars.UNKNOWN, CautionAnswers.NOT_ASKED, RedFlagAnswers.NOT_ASKED);
    }

    /** The names of what differs from {@code before}, for the audit trail: never the values. */
    List<String> changedSince(ReferralDetails before) {
        List<String> names = new ArrayList<>(ChangedFields.between(before.source, source));
        names.addAll(ChangedFields.between(before.request, request));
        ChangedFields.between(before, this).stream()
                .filter(part -> !part.equals("source") && !part.equals("request"))
                .forEach(names::add);
        return names;
    }

    /** The same visit described otherwise. */
    public ReferralDetails with(VisitRequest changed) {
        return new ReferralDetails(source, changed, reported, cautions, redFlags);
    }

    /** The same with these answers about cautions. */
    public ReferralDetails with(CautionAnswers answers) {
        return new ReferralDetails(source, request, reported, answers, redFlags);
    }

    /** The same with these answers about red flags. */
    public ReferralDetails with(RedFlagAnswers answers) {
        return new ReferralDetails(source, request, reported, cautions, answers);
    }

    /** The same with what is stored in codes that this release does not know. */
    ReferralDetails withUnknownOf(ReferralDetails stored) {
        return with(cautions.withUnknown(stored.cautions.unknown()))
                .with(redFlags.withUnknown(stored.redFlags.unknown()));
    }
}
