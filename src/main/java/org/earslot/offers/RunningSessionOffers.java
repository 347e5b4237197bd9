package org.earslot.offers;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.day.AttendanceProbability;
import org.earslot.day.ListedVisit;
import org.earslot.day.ListedVisit.EstimatedLength;
import org.earslot.day.SessionProjection;
import org.earslot.day.SessionProjector;
import org.earslot.ear.Answer;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.plan.Price;
import org.earslot.flow.run.Projection;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.offers.OfferSearch.Found;
import org.earslot.offers.OfferTerms.OwnVisit;

/**
 * Places in a session that is under way: who is in the room, who waits and how late it runs all count. A place left free
 * today is lost, so nobody else is taken to come for it; its price is against a usual patient there.
 */
final class RunningSessionOffers {

    private final OfferTerms terms;
    private final OwnVisit own;
    private final Mix mix;

    RunningSessionOffers(OfferTerms terms, OwnVisit own, Mix mix) {
        this.terms = terms;
        this.own = own;
        this.mix = mix;
    }

    List<Found> offers(ClinicSession session, List<ListedVisit> listed, List<TimeSpan> taken) {
        TimeSpan window = terms.window(session.date());
        if (window == null) {
            return List.of();
        }
        List<LocalTime> starts = FreePlaces.starts(
                session, taken, window, own.least(), terms.policy().gridMinutes());
        if (starts.isEmpty()) {
            return List.of();
        }
        SessionProjection without =
                SessionProjector.of(session, listed, terms.policy(), terms.now().toLocalTime());
        return starts.parallelStream()
                .map(start -> found(session, listed, start, FreePlaces.slot(session, taken, start, own), without))
                .toList();
    }

    private Found found(
            ClinicSession session, List<ListedVisit> listed, LocalTime start, int slot, SessionProjection without) {
        Mix.Kind usual = mix.classes(1).get(0);
        Projection with = run(session, listed, start, slot);
        Projection instead = run(session, listed, start, slot, usual.inRoom(), (int)
                Math.round(usual.turnaround().mean()));
        Projection.Visit visit = with.visit(OfferTerms.NEW.toString());
        double others = with.visits().stream()
                .filter(each -> !each.name().equals(visit.name()))
                .mapToDouble(Projection.Visit::waitMinutes)
                .sum();
        return new Found(
                session,
                start,
                slot,
                visit.waitMinutes(),
                others - without.totalWait(),
                with.pastEnd(),
                false,
                with.pastEnd(),
                terms.limits().allow(with.pastEnd()),
                Price.of(with, terms.costs()).total()
                        - Price.of(instead, terms.costs()).total()
                        + terms.daysCost(session.date()));
    }

    /** Chance that the session ends late with the visit there. */
    double lateEnd(ClinicSession session, List<ListedVisit> listed, LocalTime start, int slot) {
        return run(session, listed, start, slot).pastEnd();
    }

    private Projection run(ClinicSession session, List<ListedVisit> listed, LocalTime start, int slot) {
        return run(
                session,
                listed,
                start,
                slot,
                own.estimated().inRoom(),
                own.estimated().turnaround());
    }

    private Projection run(
            ClinicSession session,
            List<ListedVisit> listed,
            LocalTime start,
            int slot,
            MinutesDistribution inRoom,
            int turnaround) {
        EstimatedLength estimated =
                new EstimatedLength(inRoom, turnaround, own.estimated().sharedSdLog());
        List<ListedVisit> all = new ArrayList<>(listed);
        all.add(visit(start, slot, estimated, own.first()));
        DayList list = SessionProjector.list(
                session,
                SessionProjector.coming(all),
                terms.policy(),
                terms.now().toLocalTime());
        return Projection.of(list);
    }

    private ListedVisit visit(LocalTime start, int slot, EstimatedLength estimated, Answer first) {
        return new ListedVisit(
                OfferTerms.NEW,
                start,
                start,
                slot,
                estimated.inRoom(),
                estimated.turnaround(),
                estimated.sharedSdLog(),
                "",
                true,
                new LocalClock(null, null, null, null),
                new AttendanceProbability(terms.habits().coming().absent(first), terms.arrivals()));
    }

    /** Whether a session of today is no longer a mere plan. */
    static boolean hasBegun(ClinicSession session, List<ListedVisit> listed, LocalTime now) {
        return !now.isBefore(session.span().from())
                || listed.stream()
                        .anyMatch(visit ->
                                visit.times().arrived() != null || visit.times().calledIn() != null);
    }
}
