package org.earslot.flow;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Clock24;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Session;
import org.earslot.flow.plan.Append;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.HowMany;
import org.earslot.flow.plan.OpenList;
import org.earslot.flow.plan.Placeholders;
import org.earslot.flow.plan.Price;
import org.earslot.flow.plan.Rollout;
import org.earslot.flow.plan.StartTimes;
import org.earslot.flow.plan.TradeOff;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

/** Booking one by one, setting starts together, and what a session can hold. */
class OffersTest {

    private static final LocalTime NINE = LocalTime.of(9, 0);
    private static final LocalTime HALF_TWELVE = LocalTime.of(11, 30);
    private static final Costs COSTS = new Costs(1, 1, 1.5);
    private static final DayList EMPTY =
            DayList.planned(Session.between(NINE, HALF_TWELVE), List.of()).withCommonSd(0.15);

    private static Mix mix() {
        List<Mix.Kind> kinds = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            double mean = 10 + 2 * i;
            kinds.add(new Mix.Kind(
                    i < 6 ? "short" : "long",
                    LogNormalMinutes.ofMoments(mean, 0.35 * mean),
                    LogNormalMinutes.ofMoments(3, 1),
                    1));
        }
        return new Mix(kinds);
    }

    private static Place referral(double mean) {
        return Place.booked("referral", NINE, 20, LogNormalMinutes.ofMoments(mean, 0.35 * mean))
                .withTurnaround(LogNormalMinutes.ofMoments(3, 1));
    }

    @Test
    void classesKeepTheMixesMean() {
        double mean = mix().classes(5).stream()
                .mapToDouble(each -> each.inRoom().mean())
                .average()
                .orElseThrow();
        assertThat(mean).isCloseTo(21, within(1e-9));
        assertThat(mix().classes(5)).isSortedAccordingTo(Comparator.comparingDouble(Mix.Kind::spread));
    }

    @Test
    void aTemplateHoldsAPlaceForEachClass() {
        Placeholders template = Placeholders.template(EMPTY, mix(), 6, COSTS, 5);
        assertThat(template.free()).hasSize(6);
        assertThat(template.list().places()).isSortedAccordingTo(Comparator.comparing(Place::booked));
        assertThat(template.list().places())
                .allSatisfy(each -> assertThat(each.booked().getMinute() % 5).isZero());
    }

    private static OpenList empty() {
        return OpenList.of(EMPTY, mix(), 6, COSTS, 5);
    }

    @Test
    void aShortReferralIsOfferedAnEarlierPlaceThanALongOne() {
        Rollout.Offer shortOne = Rollout.offers(List.of(Rollout.Open.allDay("Monday", empty(), referral(11))), 3)
                .get(0);
        Rollout.Offer longOne = Rollout.offers(List.of(Rollout.Open.allDay("Monday", empty(), referral(31))), 3)
                .get(0);
        assertThat(shortOne.start()).isBefore(longOne.start());
        assertThat(shortOne.addedCost()).isLessThan(longOne.addedCost());
        assertThat(shortOne.slotMinutes()).isLessThan(longOne.slotMinutes());
    }

    @Test
    void placeholdersFillWhatBookedVisitsLeaveFree() {
        Place booked = Place.booked("booked", LocalTime.of(9, 50), 25, LogNormalMinutes.ofMoments(20, 7));
        Placeholders places = Placeholders.around(EMPTY.withPlaces(List.of(booked)), mix(), 5, 5);
        assertThat(places.free()).hasSize(5);
        assertThat(places.booked().places()).containsExactly(booked);
        assertThat(places.list().places())
                .isSortedAccordingTo(Comparator.comparing(Place::booked))
                .filteredOn(each -> places.free().contains(each.name()))
                .noneMatch(each -> !each.booked().isBefore(LocalTime.of(9, 50))
                        && each.booked().isBefore(LocalTime.of(10, 15)));
        assertThat(Placeholders.around(EMPTY.withPlaces(List.of(booked)), mix(), 100, 5)
                        .free())
                .as("one for each free start of the grid")
                .hasSize(25);
    }

    @Test
    void anOfferLeavesConfirmedStartsAndKeepsToItsHours() {
        Place booked = Place.booked("booked", LocalTime.of(10, 0), 25, LogNormalMinutes.ofMoments(20, 7));
        OpenList open = OpenList.of(EMPTY.withPlaces(List.of(booked)), mix(), 5, COSTS, 5);
        Rollout.Open late = new Rollout.Open(
                "Tuesday",
                open,
                referral(20),
                20,
                30,
                LocalTime.of(10, 20),
                LocalTime.of(11, 0),
                0,
                Rollout.Limits.NONE);
        List<Rollout.Offer> offers = Rollout.offers(List.of(late), 3);
        assertThat(offers).isNotEmpty().allSatisfy(offer -> {
            assertThat(offer.start()).isBetween(LocalTime.of(10, 25), LocalTime.of(11, 0));
            assertThat(offer.slotMinutes()).isBetween(20.0, 30.0);
            DayList then = offer.then().list();
            assertThat(then.places().get(then.indexOf("booked"))).isEqualTo(booked);
            assertThat(then.places().get(then.indexOf("referral")).slotMinutes())
                    .isEqualTo(offer.slotMinutes());
            assertThat(offer.addedWaitMinutes()).as("whoever came before").isZero();
        });
    }

    /** One more visit is expected, and held early in the day; whoever can only come late is not sent away for that. */
    @Test
    void aVisitThatFitsNoHeldPlaceIsOfferedAnotherFreeOne() {
        Place booked = Place.booked("booked", LocalTime.of(9, 50), 85, LogNormalMinutes.ofMoments(80, 7));
        OpenList open = OpenList.of(EMPTY.withPlaces(List.of(booked)), mix(), 1, COSTS, 5);
        assertThat(open.places().free()).hasSize(1);
        LocalTime held = open.places().list().places().get(0).booked();
        assertThat(held).isBefore(LocalTime.of(9, 50));
        Rollout.Open late = new Rollout.Open(
                "Friday",
                open,
                referral(10),
                10,
                15,
                LocalTime.of(11, 3),
                LocalTime.of(11, 30),
                0,
                Rollout.Limits.NONE);
        assertThat(Rollout.offers(List.of(late), 3))
                .isNotEmpty()
                .allSatisfy(offer -> assertThat(offer.start()).isBetween(LocalTime.of(11, 5), LocalTime.of(11, 20)));
    }

    @Test
    void anOfferBeforeOthersAddsToTheirWait() {
        Place booked = Place.booked("booked", LocalTime.of(9, 30), 25, LogNormalMinutes.ofMoments(20, 7));
        OpenList open = OpenList.of(EMPTY.withPlaces(List.of(booked)), mix(), 5, COSTS, 5);
        Rollout.Open first = new Rollout.Open(
                "Tuesday", open, referral(26), 25, 40, LocalTime.of(9, 0), LocalTime.of(9, 5), 0, Rollout.Limits.NONE);
        assertThat(Rollout.offers(List.of(first), 1))
                .hasSize(1)
                .allSatisfy(offer -> assertThat(offer.addedWaitMinutes()).isPositive());
        Rollout.Open tooLong = new Rollout.Open(
                "Tuesday", open, referral(26), 35, 40, LocalTime.of(9, 0), LocalTime.of(9, 5), 0, Rollout.Limits.NONE);
        assertThat(Rollout.offers(List.of(tooLong), 1)).isEmpty();
    }

    @Test
    void nobodyIsOfferedAPlaceInABreakOrPastTheEnd() {
        Session session =
                new Session(NINE, HALF_TWELVE, List.of(Break.kept(LocalTime.of(10, 0), LocalTime.of(10, 20))));
        OpenList open = OpenList.of(DayList.planned(session, List.of()), mix(), 6, COSTS, 5);
        List<Rollout.Offer> offers = Rollout.offers(List.of(Rollout.Open.allDay("Monday", open, referral(27))), 12);
        assertThat(offers).isNotEmpty().allSatisfy(offer -> {
            LocalTime end = offer.start().plusMinutes((long) offer.slotMinutes());
            assertThat(end).isBeforeOrEqualTo(HALF_TWELVE);
            assertThat(!end.isAfter(LocalTime.of(10, 0)) || !offer.start().isBefore(LocalTime.of(10, 20)))
                    .as("%s to %s", offer.start(), end)
                    .isTrue();
        });
    }

    /** Judged place by place: where any free start keeps to the limit, one that does is offered. */
    @Test
    void whereAnyFreeStartKeepsToTheLimitOneIsOffered() {
        Rollout.Limits limits = new Rollout.Limits(0.1, 0.25);
        int possible = 0;
        for (long seed = 1; seed <= 40; seed++) {
            Random random = new Random(seed);
            Place visit = referral(12 + random.nextInt(20));
            List<Place> booked = new ArrayList<>();
            for (int at = 540 + 5 * random.nextInt(6); at < 665; at += 15 + 5 * random.nextInt(7)) {
                double mean = 8 + random.nextInt(14);
                booked.add(Place.booked("" + at, Clock24.time(at), 15, LogNormalMinutes.ofMoments(mean, 0.3 * mean))
                        .withTurnaround(LogNormalMinutes.ofMoments(3, 1)));
            }
            DayList list = EMPTY.withPlaces(booked);
            OpenList open = OpenList.of(list, mix(), Math.max(1, HowMany.more(list, mix(), 0.1)), COSTS, 5);
            List<Rollout.Offer> offers = Rollout.offers(
                    List.of(Rollout.Open.allDay("Monday", open, visit).within(limits)), 3);
            double least = leastLateEnd(list, visit);
            if (least <= 0.1) {
                possible++;
                assertThat(offers.get(0).within()).as("seed %d", seed).isTrue();
            }
            if (least > 0.105) {
                assertThat(offers).as("seed %d", seed).noneMatch(Rollout.Offer::within);
            }
        }
        assertThat(possible).isBetween(8, 32);
    }

    /** Of all starts on the grid at which the visit takes nobody's place. */
    private static double leastLateEnd(DayList list, Place visit) {
        double least = 1;
        double slot = Rollout.meanSlot(visit, 5);
        for (double at = 540; at + slot <= 690; at += 5) {
            double from = at;
            boolean free = list.places().stream()
                    .allMatch(each -> Clock24.minutes(each.booked()) >= from + slot
                            || Clock24.minutes(each.booked()) + each.slotMinutes() <= from);
            if (free) {
                List<Place> all = new ArrayList<>(list.places());
                all.add(visit.movedTo(Clock24.time(at), slot));
                all.sort(Comparator.comparing(Place::booked));
                least = Math.min(least, Price.of(list.withPlaces(all), COSTS).pastEnd());
            }
        }
        return least;
    }

    @Test
    void offersWithinTheLimitComeFirst() {
        OpenList full = OpenList.of(
                EMPTY.withPlaces(List.of(
                        Place.booked("a", NINE, 60, LogNormalMinutes.ofMoments(60, 18)),
                        Place.booked("b", LocalTime.of(10, 0), 60, LogNormalMinutes.ofMoments(60, 18)))),
                mix(),
                1,
                COSTS,
                5);
        Rollout.Limits limits = new Rollout.Limits(0.2, 0.25);
        Rollout.Open near = Rollout.Open.allDay("Monday", full, referral(20)).within(limits);
        Rollout.Open plain = Rollout.Open.allDay("Friday", empty(), referral(20));
        // Far away, so dearer by far.
        Rollout.Open far = new Rollout.Open(
                plain.name(),
                plain.list(),
                plain.visit(),
                plain.leastMinutes(),
                plain.mostMinutes(),
                plain.earliest(),
                plain.latest(),
                500,
                limits);
        List<Rollout.Offer> offers = Rollout.offers(List.of(near, far), 12);
        assertThat(offers.get(0).open()).isEqualTo("Friday");
        assertThat(offers).extracting(Rollout.Offer::within).isSortedAccordingTo(Comparator.reverseOrder());
        assertThat(offers)
                .filteredOn(offer -> offer.open().equals("Monday"))
                .isNotEmpty()
                .allSatisfy(offer -> {
                    assertThat(offer.within()).isFalse();
                    assertThat(offer.bookedPastEnd()).isGreaterThan(0.2);
                });
    }

    @Test
    void nearlyEmptyListsAreFilledEvenly() {
        List<OpenList> lists = new ArrayList<>(List.of(empty(), empty(), empty()));
        int[] counts = new int[3];
        for (int i = 0; i < 6; i++) {
            Place visit = referral(20);
            List<Rollout.Open> open = new ArrayList<>();
            for (int list = 0; list < 3; list++) {
                open.add(Rollout.Open.allDay("" + list, lists.get(list), visit).within(new Rollout.Limits(0.2, 0)));
            }
            Rollout.Offer best = Rollout.offers(open, 1).get(0);
            int in = Integer.parseInt(best.open());
            counts[in]++;
            List<Place> places = new ArrayList<>(lists.get(in).places().booked().places());
            places.add(Place.booked("v" + i, best.start(), best.slotMinutes(), visit.inRoom())
                    .withTurnaround(visit.turnaround()));
            places.sort(Comparator.comparing(Place::booked));
            DayList then = EMPTY.withPlaces(places);
            lists.set(in, OpenList.of(then, mix(), Math.max(1, HowMany.more(then, mix(), 0.2)), COSTS, 5));
        }
        assertThat(counts).containsExactly(2, 2, 2);
    }

    @Test
    void bookingOneByOneLeavesNobodyOut() {
        List<Place> asked = new ArrayList<>();
        for (int i = 0; i < 7; i++) {
            asked.add(Place.booked("v" + i, NINE, 0, LogNormalMinutes.ofMoments(12 + 3 * (i * 5 % 7), 6)));
        }
        DayList list = Rollout.booked(List.of(EMPTY), List.of(7), asked, mix(), COSTS, 5)
                .get(0);
        assertThat(list.places())
                .hasSize(7)
                .isSortedAccordingTo(Comparator.comparing(Place::booked))
                .allSatisfy(each -> assertThat(each.booked().getMinute() % 5).isZero());
    }

    @Test
    void settingStartsLeavesConfirmedOnesAndBreaksAlone() {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            places.add(Place.booked("v" + i, NINE.plusMinutes(20L * i), 20, LogNormalMinutes.ofMoments(18, 7)));
        }
        Session session = new Session(
                NINE, LocalTime.of(12, 30), List.of(Break.kept(LocalTime.of(10, 30), LocalTime.of(10, 45))));
        DayList list = DayList.planned(session, places).withCommonSd(0.15);
        StartTimes found = StartTimes.of(list, COSTS, new StartTimes.Rules(5, Set.of("v3"), false));
        assertThat(found.after().total()).isLessThan(found.before().total());
        assertThat(found.list().places().get(3)).isEqualTo(places.get(3));
        assertThat(found.list().places()).isSortedAccordingTo(Comparator.comparing(Place::booked));
        assertThat(found.list().places())
                .noneMatch(each -> !each.booked().isBefore(LocalTime.of(10, 30))
                        && each.booked().isBefore(LocalTime.of(10, 45)));
        assertThat(Price.of(found.list(), COSTS)).isEqualTo(found.after());
    }

    @Test
    void aFreeOrderCostsNoMoreThanTheOneAskedFor() {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < 6; i++) {
            double mean = i % 2 == 0 ? 30 : 12;
            places.add(
                    Place.booked("v" + i, NINE.plusMinutes(22L * i), 22, LogNormalMinutes.ofMoments(mean, mean / 2)));
        }
        DayList list = DayList.planned(Session.between(NINE, LocalTime.of(11, 30)), places);
        StartTimes.Rules rules = StartTimes.Rules.everyMinutes(5);
        StartTimes given = StartTimes.of(list, COSTS, rules);
        StartTimes free = StartTimes.of(list, COSTS, rules.withOrderFree());
        assertThat(free.after().total()).isLessThan(given.after().total());
        assertThat(free.list().places().get(0).inRoom().mean()).isCloseTo(12, within(1e-9));
    }

    @Test
    void asManyFitAsTheAcceptedOvertimeAllows() {
        List<Place> places = new ArrayList<>();
        for (int i = 0; i < 10; i++) {
            places.add(Place.booked("v" + i, NINE.plusMinutes(15L * i), 15, LogNormalMinutes.ofMoments(18, 6)));
        }
        DayList list = EMPTY.withPlaces(places);
        StartTimes.Rules rules = StartTimes.Rules.everyMinutes(5);
        HowMany strict = HowMany.fit(list, COSTS, 0.1, rules);
        HowMany easy = HowMany.fit(list, COSTS, 0.5, rules);
        assertThat(strict.visits()).isBetween(4, 8).isLessThan(easy.visits());
        assertThat(strict.starts().after().pastEnd()).isLessThanOrEqualTo(0.1);
        assertThat(HowMany.fit(list, COSTS, 1, rules).visits()).isEqualTo(10);
    }

    @Test
    void appendingCarriesWhatTheGridTakes() {
        List<Place> places = new ArrayList<>();
        DayList list = EMPTY;
        for (int i = 0; i < 5; i++) {
            LocalTime next = Append.next(list, 0, 5, 18).orElseThrow();
            places.add(Place.booked("v" + i, next, 15, LogNormalMinutes.ofMoments(18, 6)));
            list = EMPTY.withPlaces(places);
        }
        // 0, 18, 36, 54, 72 minutes, each met on the grid of 5 from below.
        assertThat(places.stream().map(Place::booked))
                .containsExactly(
                        NINE, NINE.plusMinutes(15), NINE.plusMinutes(35), NINE.plusMinutes(50), NINE.plusMinutes(70));
        assertThat(Append.next(list, 0, 5, 120)).isEmpty();
    }

    @Test
    void theTradeOffFavoursStartsSetTogether() {
        TradeOff found = TradeOff.of(
                EMPTY,
                mix(),
                COSTS,
                List.of(6),
                2,
                5,
                EnumSet.of(
                        TradeOff.Policy.FIXED_SLOTS,
                        TradeOff.Policy.SLOTS_BY_GROUP,
                        TradeOff.Policy.SLOTS_BY_ESTIMATE,
                        TradeOff.Policy.OFFERS,
                        TradeOff.Policy.STARTS_TOGETHER,
                        TradeOff.Policy.STARTS_AND_ORDER));
        assertThat(found.points()).hasSize(6).allSatisfy(point -> {
            assertThat(point.waitOfNineInTen()).isGreaterThan(point.meanWait());
            assertThat(point.visits()).isEqualTo(6);
        });
        assertThat(cost(found, TradeOff.Policy.STARTS_TOGETHER)).isLessThan(cost(found, TradeOff.Policy.FIXED_SLOTS));
        assertThat(cost(found, TradeOff.Policy.STARTS_AND_ORDER))
                .isLessThan(cost(found, TradeOff.Policy.STARTS_TOGETHER));
    }

    private static double cost(TradeOff found, TradeOff.Policy policy) {
        return found.points().stream()
                .filter(each -> each.policy() == policy)
                .mapToDouble(each -> 6 * each.meanWait() + each.idleMinutes() + 1.5 * each.overtimeMinutes())
                .sum();
    }

    @Test
    void startsAreNotSetOnceAListIsUnderWay() {
        DayList running = DayList.planned(
                        Session.between(NINE, HALF_TWELVE),
                        List.of(Place.booked("v", NINE, 20, LogNormalMinutes.ofMoments(18, 6))))
                .at(LocalTime.of(9, 5));
        assertThatThrownBy(() -> StartTimes.of(running, COSTS, StartTimes.Rules.everyMinutes(5)))
                .hasMessageContaining("under way");
    }
}
