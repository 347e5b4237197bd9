package org.earslot.referral;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Answer;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/**
 * What a referral says; null is "not known".
 *
 * @param softenerDays days of softener used so far, 0 to 365
 * @param notBefore no appointment before this date (softener days not over)
 * @param cautions those answered with yes
 * @param cautionsAsked whether the list of cautions was read out; an empty list then means "none of these"
 * @param reported per ear treated, what was reported
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
        Map<Ear, EarFindings> reported) {

    public ReferralDetails {
        cautions = List.copyOf(cautions);
        reported = Map.copyOf(reported);
    }

    /** The same with so many days of softener used. */
    public ReferralDetails withSoftenerDays(int days) {
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
                redFlag,
                cautionsAsked,
                cautions,
                reported);
    }

    /** What was reported of {@code ear}; nothing known where nothing was. */
    public EarFindings reported(Ear ear) {
        return reported.getOrDefault(ear, EarFindings.UNKNOWN);
    }
}
