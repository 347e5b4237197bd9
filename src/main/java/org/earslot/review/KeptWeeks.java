package org.earslot.review;

import java.time.YearMonth;
import java.time.ZoneId;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.review.MonthSummaries.Ground;
import org.earslot.review.MonthSummaries.Part;
import org.earslot.review.figures.ReferralsBooked;
import org.earslot.review.figures.Scope;
import org.earslot.review.figures.WeeksToAppointment;
import org.earslot.visit.VisitLogRevision;
import org.springframework.stereotype.Component;

/**
 * Weeks to the next appointment of a month: as they were kept on the same day while its bookings stand as they did, else
 * worked out anew. What is mended outside the month's own bookings, as the day a referral was received, shows the day after.
 */
@Component
public class KeptWeeks {

    private final ReferralsBooked referrals;
    private final MonthSummaries summaries;
    private final VisitLogRevision changes;
    private final ClinicClock clock;

    KeptWeeks(ReferralsBooked referrals, MonthSummaries summaries, VisitLogRevision changes, ClinicClock clock) {
        this.referrals = referrals;
        this.summaries = summaries;
        this.changes = changes;
        this.clock = clock;
    }

    public WeeksToAppointment in(UUID clinicId, YearMonth month, Scope whose) {
        ZoneId zone = clock.zone(clinicId);
        if (!changes.settled(month)) {
            return referrals.in(clinicId, month, zone, whose);
        }
        String bookings = referrals.bookings(clinicId, month, zone, whose);
        Ground ground = new Ground(0, zone + " " + clock.today(clinicId) + " " + bookings);
        WeeksToAppointment kept = summaries
                .standing(clinicId, whose, Part.WEEKS, new TreeMap<>(Map.of(month, ground)))
                .get(month);
        if (kept != null) {
            return kept;
        }
        WeeksToAppointment weeks = referrals.in(clinicId, month, zone, whose);
        summaries.keep(clinicId, whose, month, Part.WEEKS, ground, weeks);
        return weeks;
    }
}
