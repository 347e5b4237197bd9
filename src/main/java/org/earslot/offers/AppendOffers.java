package org.earslot.offers;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.plan.Append;
import org.earslot.flow.plan.Price;
import org.earslot.flow.run.Projection;
import org.earslot.offers.OfferSearch.Found;
import org.earslot.offers.OfferTerms.OwnVisit;

/**
 * The rule if offers by the whole list are switched off: the start after the last one booked, each visit given its
 * mean and so much of its spread as the accepted overtime asks for. Where the end is full, the first gap that is long
 * enough.
 */
final class AppendOffers {

    private final OfferTerms terms;
    private final OwnVisit own;
    private final Mix mix;

    AppendOffers(OfferTerms terms, OwnVisit own, Mix mix) {
        this.terms = terms;
        this.own = own;
        this.mix = mix;
    }

    /** At most one. */
    List<Found> offers(ClinicSession session, DayList booked, List<TimeSpan> taken) {
        TimeSpan window = terms.window(session.date());
        if (window == null) {
            return List.of();
        }
        double grid = terms.policy().gridMinutes();
        double sds = Append.sds(booked, mix, terms.policy().acceptedOvertimeShare());
        Place visit = terms.place(own);
        double usual = Append.slot(visit, sds, grid) + own.beyond();
        int wanted = (int) Math.max(own.least(), Math.min(own.most(), usual));
        Optional<LocalTime> end = Append.next(booked, sds, grid, own.least())
                .filter(start -> !start.isBefore(window.from()) && start.isBefore(window.to()))
                .filter(start -> FreePlaces.isFree(session, taken, start, own.least()));
        Optional<LocalTime> start =
                end.or(() -> FreePlaces.starts(session, taken, window, own.least(), (int) grid).stream()
                        .findFirst());
        return start
                .map(at -> {
                    int slot = Math.min(wanted, FreePlaces.slot(session, taken, at, own));
                    return found(session, booked, visit.movedTo(at, slot), slot);
                })
                .stream()
                .toList();
    }

    private Found found(ClinicSession session, DayList booked, Place visit, int slot) {
        DayList all = with(booked, visit);
        Projection with = Projection.of(all);
        Projection.Visit mine = with.visit(visit.name());
        double others = with.totalWaitMinutes() - mine.attends() * mine.waitMinutes();
        double before = booked.places().isEmpty() ? 0 : Projection.of(booked).totalWaitMinutes();
        double lateEnd = Price.of(all, terms.costs()).pastEnd();
        return new Found(
                session,
                visit.booked() == null ? LocalTime.MIN : visit.booked(),
                slot,
                mine.waitMinutes(),
                others - before,
                lateEnd,
                false,
                lateEnd,
                terms.limits().allow(lateEnd),
                terms.costs().waitMinute() * mine.waitMinutes() + terms.daysCost(session.date()));
    }

    /** The list with a visit more, in order of start. */
    static DayList with(DayList booked, Place visit) {
        List<Place> places = new ArrayList<>(booked.places());
        places.add(visit);
        places.sort(Comparator.comparing(each -> each.booked() == null ? LocalTime.MIN : each.booked()));
        return booked.withPlaces(places);
    }
}
