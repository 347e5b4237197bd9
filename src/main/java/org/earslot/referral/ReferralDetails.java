package org.earslot.referral;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionsAnswered;
import org.earslot.caution.UnknownCodes;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.jspecify.annotations.Nullable;

/**
 * What a referral says; null is "not known".
 *
 * @param softenerDays days of softener used so far, 0 to 365
 * @param notBefore no appointment before this date (softener days not over)
 * @param cautions those answered with yes
 * @param cautionsAsked whether the list of cautions was read out; an empty list then means "none of these"
 * @param reported per ear treated, what was reported
 * @param redFlag what was said of a red flag in own words; stops a routine booking
 * @param redFlags what was answered about each red flag; one that is left out was not asked
 * @param shortNotice whether the patient can come at short notice
 * @param origin how it came in
 * @param cautionsNotKnown cautions that were asked and could not be answered
 * @param unknown what is stored of cautions and red flags in codes that this release does not know
 */
public record ReferralDetails(
        @Nullable String referrer,
        LocalDate receivedOn,
        @Nullable String reason,
        Priority priority,
        Ears ears,
        Method methodPlanned,
        Answer firstVisit,
        @Nullable Integer softenerDays,
        @Nullable LocalDate notBefore,
        @Nullable String lastTime,
        @Nullable String mustFollow,
        @Nullable LocalDate mustFollowBy,
        @Nullable String redFlag,
        boolean cautionsAsked,
        List<AskedCaution> cautions,
        Map<Ear, EarFindings> reported,
        Map<RedFlag, Answer> redFlags,
        Set<Caution> cautionsNotKnown,
        Origin origin,
        Answer shortNotice,
        UnknownCodes unknown)
        implements CautionsAnswered {

    public ReferralDetails {
        cautions = List.copyOf(cautions);
        reported = Map.copyOf(reported);
        redFlags = Map.copyOf(redFlags);
        cautionsNotKnown = Set.copyOf(cautionsNotKnown);
    }

    /** A referral of which every code is known. */
    public ReferralDetails(
            @Nullable String referrer,
            LocalDate receivedOn,
            @Nullable String reason,
            Priority priority,
            Ears ears,
            Method methodPlanned,
            Answer firstVisit,
            @Nullable Integer softenerDays,
            @Nullable LocalDate notBefore,
            @Nullable String lastTime,
            @Nullable String mustFollow,
            @Nullable LocalDate mustFollowBy,
            @Nullable String redFlag,
            boolean cautionsAsked,
            List<AskedCaution> cautions,
            Map<Ear, EarFindings> reported,
            Map<RedFlag, Answer> redFlags,
            Set<Caution> cautionsNotKnown,
            Origin origin,
            Answer shortNotice) {
        this(
                referrer,
                receivedOn,
                reason,
                priority,
                ears,
                methodPlanned,
                firstVisit,
                softenerDays,
                notBefore,
                lastTime,
                mustFollow,
                mustFollowBy,
                redFlag,
                cautionsAsked,
                cautions,
                reported,
                redFlags,
                cautionsNotKnown,
                origin,
                shortNotice,
                UnknownCodes.NONE);
    }

    /** A referral of which no red flag was asked, and no caution answered with "not known". */
    public ReferralDetails(
            @Nullable String referrer,
            LocalDate receivedOn,
            @Nullable String reason,
            Priority priority,
            Ears ears,
            Method methodPlanned,
            Answer firstVisit,
            @Nullable Integer softenerDays,
            @Nullable LocalDate notBefore,
            @Nullable String lastTime,
            @Nullable String mustFollow,
            @Nullable LocalDate mustFollowBy,
            @Nullable String redFlag,
            boolean cautionsAsked,
            List<AskedCaution> cautions,
            Map<Ear, EarFindings> reported) {
        this(
                referrer,
                receivedOn,
                reason,
                priority,
                ears,
                methodPlanned,
                firstVisit,
                softenerDays,
                notBefore,
                lastTime,
                mustFollow,
                mustFollowBy,
                redFlag,
                cautionsAsked,
                cautions,
                reported,
                Map.of(),
                Set.of(),
                Origin.REFERRAL,
                Answer.NOT_KNOWN);
    }

    /** What was answered about {@code flag}; empty if it was not asked. */
    public Optional<Answer> answer(RedFlag flag) {
        return Optional.ofNullable(redFlags.get(flag));
    }

    /** The red flags answered so, in the order in which they are asked; those that are only a note among them. */
    public List<RedFlag> redFlagsAnswered(Answer answer) {
        return Arrays.stream(RedFlag.values())
                .filter(flag -> redFlags.get(flag) == answer)
                .toList();
    }

    /** The red flags answered with yes that stop a routine booking. */
    public List<RedFlag> redFlagsRaised() {
        return stopping(Answer.YES);
    }

    /** The red flags that were asked and could not be answered. */
    public List<RedFlag> redFlagsNotKnown() {
        return stopping(Answer.NOT_KNOWN);
    }

    /** The red flags still to be asked. */
    public List<RedFlag> redFlagsUnasked() {
        return RedFlag.stopping().stream()
                .filter(flag -> !redFlags.containsKey(flag))
                .toList();
    }

    /** Answered with yes, but only a note to the practitioner and the referrer. */
    public List<RedFlag> redFlagNotes() {
        return redFlagsAnswered(Answer.YES).stream()
                .filter(flag -> !flag.stops())
                .toList();
    }

    /** Whether every red flag was asked, whatever the answer. */
    public boolean redFlagsAsked() {
        return redFlagsUnasked().isEmpty();
    }

    /** Whether an answer, or something said in own words, has to go to a clinician. */
    public boolean stopsRoutineBooking() {
        return redFlag != null
                || !redFlagsRaised().isEmpty()
                || !redFlagsNotKnown().isEmpty()
                || !unknown.redFlags().isEmpty();
    }

    /** Whether every red flag was asked and every answer is no. */
    public boolean redFlagsAllNo() {
        return !stopsRoutineBooking() && redFlagsAsked();
    }

    private List<RedFlag> stopping(Answer answer) {
        return redFlagsAnswered(answer).stream().filter(RedFlag::stops).toList();
    }

    /**
     * The same with these cautions counted as answered with yes, whether or not the list was read out, and these still to
     * be clarified.
     */
    public ReferralDetails counting(List<AskedCaution> yes, List<UnknownCode> unclear) {
        return with(softenerDays, redFlag, cautionsAsked, yes, redFlags, unknown.withCautions(unclear));
    }

    /** The same with these codes as they are stored. */
    public ReferralDetails withUnknown(UnknownCodes stored) {
        return with(softenerDays, redFlag, cautionsAsked, cautions, redFlags, stored);
    }

    /** The same with these answers about red flags. */
    public ReferralDetails withRedFlags(Map<RedFlag, Answer> answers) {
        return withRedFlags(answers, redFlag);
    }

    /** The same with these answers about red flags and these own words. */
    ReferralDetails withRedFlags(Map<RedFlag, Answer> answers, @Nullable String words) {
        return with(softenerDays, words, cautionsAsked, cautions, answers, unknown);
    }

    /** The same with the list of cautions read out and these answered with yes. */
    ReferralDetails withCautions(List<AskedCaution> yes) {
        return with(softenerDays, redFlag, true, yes, redFlags, unknown);
    }

    /** The same with the list of cautions still to be read out; what was said before is to be confirmed. */
    public ReferralDetails withCautionsToAsk() {
        return with(softenerDays, redFlag, false, cautions, redFlags, unknown);
    }

    /** The same with so many days of softener used. */
    public ReferralDetails withSoftenerDays(int days) {
        return with(days, redFlag, cautionsAsked, cautions, redFlags, unknown);
    }

    private ReferralDetails with(
            @Nullable Integer days,
            @Nullable String words,
            boolean asked,
            List<AskedCaution> yes,
            Map<RedFlag, Answer> answers,
            UnknownCodes stored) {
        return new ReferralDetails(
                referrer,
                receivedOn,
                reason,
                priority,
                ears,
                methodPlanned,
                firstVisit,
                days,
                notBefore,
                lastTime,
                mustFollow,
                mustFollowBy,
                words,
                asked,
                yes,
                reported,
                answers,
                cautionsNotKnown,
                origin,
                shortNotice,
                stored);
    }

    /** What was reported of {@code ear}; nothing known where nothing was. */
    public EarFindings reported(Ear ear) {
        return reported.getOrDefault(ear, EarFindings.UNKNOWN);
    }
}
