package org.earslot.referral;

import jakarta.persistence.Embeddable;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.util.Locale;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.DateRange;
import org.earslot.page.PlainText;
import org.hibernate.validator.constraints.Range;
import org.jspecify.annotations.Nullable;

/**
 * The visit that a referral asks for; null is "not known".
 *
 * @param softenerDays days of softener used so far, 0 to 365
 * @param notBefore no appointment before this date (softener days not over)
 * @param mustFollow what the visit must come before, in free text
 * @param shortNotice whether the patient can come at short notice
 */
@Embeddable
public record VisitRequest(
        @PlainText(max = 1000, lines = true) @Nullable String reason,
        Priority priority,
        @NotNull(message = "{referral.allowed.ears}") Ears ears,
        @NotNull(message = "{referral.allowed.method}") Method methodPlanned,
        Answer firstVisit,
        @Range(min = 0, max = 365) @Nullable Integer softenerDays,
        @DateRange(from = "-P1Y", to = "P2Y") @Nullable LocalDate notBefore,
        @PlainText(max = 1000, lines = true) @Nullable String lastTime,
        @PlainText(max = 120) @Nullable String mustFollow,
        @DateRange(from = "-P1Y", to = "P2Y") @Nullable LocalDate mustFollowBy,
        Answer shortNotice) {

    public VisitRequest {
        priority = priority == null ? Priority.ROUTINE : priority;
        firstVisit = firstVisit == null ? Answer.NOT_KNOWN : firstVisit;
        shortNotice = shortNotice == null ? Answer.NOT_KNOWN : shortNotice;
    }

    /** A routine visit of which nothing else is known. */
    public static VisitRequest routine(Ears ears, Method methodPlanned) {
        return new VisitRequest(
                null,
                Priority.ROUTINE,
                ears,
                methodPlanned,
                Answer.NOT_KNOWN,
                null,
                null,
                null,
                null,
                null,
                Answer.NOT_KNOWN);
    }

    /** Whether a hearing test is to follow the visit. */
    public boolean hearingTestFollows() {
        return mustFollow != null && mustFollow.toLowerCase(Locale.ROOT).contains("hearing test");
    }

    /** The same by another method. */
    public VisitRequest by(Method method) {
        return with(reason, ears, method, softenerDays);
    }

    /** The same for these ears by that method. */
    public VisitRequest of(Ears treated, Method method) {
        return with(reason, treated, method, softenerDays);
    }

    /** The same for this reason. */
    public VisitRequest because(String why) {
        return with(why, ears, methodPlanned, softenerDays);
    }

    /** The same with that many days of softener used. */
    public VisitRequest withSoftenerDays(int days) {
        return with(reason, ears, methodPlanned, days);
    }

    private VisitRequest with(@Nullable String why, Ears treated, Method method, @Nullable Integer days) {
        return new VisitRequest(
                why,
                priority,
                treated,
                method,
                firstVisit,
                days,
                notBefore,
                lastTime,
                mustFollow,
                mustFollowBy,
                shortNotice);
    }
}
