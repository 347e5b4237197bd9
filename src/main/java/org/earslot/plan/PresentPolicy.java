package org.earslot.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.run.Projection;
import org.earslot.plan.ClinicMix.Member;
import org.jspecify.annotations.Nullable;

/**
 * What the policy in force gives: visits drawn from the clinic's mix, each booked after the last for the slot the policy
 * gives it, until the next does not fit.
 *
 * @param visits a session, mean
 * @param meanWait of a patient, minutes
 * @param waitOfNineInTen 9 in 10 patients wait no longer, minutes; read straight between the points of each projection
 * @param pastEnd share of sessions that end late
 */
public record PresentPolicy(
        double visits, double meanWait, double waitOfNineInTen, double overtimeMinutes, double pastEnd) {

    private static final long SEED = 20_261_125;
    private static final double[] CHANCES = {0, 0.1, 0.5, 0.8, 0.9, 0.95, 1};
    private static final int LONGEST = 180;

    static PresentPolicy of(DayList empty, List<Member> mix, int days) {
        SplittableRandom random = new SplittableRandom(SEED);
        double visits = 0;
        double waits = 0;
        double overtime = 0;
        double late = 0;
        double[] above = new double[LONGEST + 1];
        for (int day = 0; day < days; day++) {
            DayList list = filled(empty, mix, random);
            if (list.places().isEmpty()) {
                continue;
            }
            Projection run = Projection.of(list);
            visits += list.places().size();
            waits += run.totalWaitMinutes();
            overtime += run.overtimeMinutes();
            late += run.pastEnd();
            for (int i = 0; i < list.places().size(); i++) {
                addTail(
                        above,
                        list.places().get(i).booked(),
                        run.visits().get(i).starts());
            }
        }
        double all = Math.max(1, visits);
        return new PresentPolicy(visits / days, waits / all, ninth(above, all), overtime / days, late / days);
    }

    private static DayList filled(DayList empty, List<Member> mix, SplittableRandom random) {
        List<Place> places = new ArrayList<>();
        LocalTime at = empty.session().from();
        while (true) {
            Member next = mix.get(random.nextInt(mix.size()));
            for (Break rest : empty.session().breaks()) {
                boolean inBreak = at.isBefore(rest.to())
                        && at.plusMinutes(next.slotMinutes()).isAfter(rest.from());
                at = inBreak ? rest.to() : at;
            }
            LocalTime end = at.plusMinutes(next.slotMinutes());
            if (end.isAfter(empty.session().to()) || !end.isAfter(at)) {
                return empty.withPlaces(places);
            }
            places.add(Place.booked(
                            "visit " + places.size(),
                            at,
                            next.slotMinutes(),
                            next.kind().inRoom())
                    .withTurnaround(next.kind().turnaround()));
            at = end;
        }
    }

    /** Adds P(wait > x) of one visit for each whole minute x. */
    private static void addTail(double[] above, @Nullable LocalTime booked, Projection.@Nullable Points starts) {
        if (booked == null || starts == null) {
            return;
        }
        double[] waits = {
            0,
            wait(booked, starts.tenth()),
            wait(booked, starts.median()),
            wait(booked, starts.fourFifths()),
            wait(booked, starts.ninetieth()),
            wait(booked, starts.ninetyFifth()),
            wait(booked, starts.ninetyFifth()) * 1.5
        };
        for (int x = 0; x < above.length; x++) {
            above[x] += 1 - chanceUpTo(waits, x);
        }
    }

    private static double chanceUpTo(double[] waits, double x) {
        for (int i = waits.length - 1; i >= 0; i--) {
            if (waits[i] <= x) {
                if (i == waits.length - 1) {
                    return 1;
                }
                return CHANCES[i] + (CHANCES[i + 1] - CHANCES[i]) * (x - waits[i]) / (waits[i + 1] - waits[i]);
            }
        }
        return 0;
    }

    private static double wait(LocalTime booked, LocalTime start) {
        return Math.max(0, (start.toSecondOfDay() - booked.toSecondOfDay()) / 60.0);
    }

    private static double ninth(double[] above, double all) {
        for (int x = 0; x < above.length; x++) {
            if (above[x] <= 0.1 * all) {
                return x == 0 ? 0 : x - (0.1 * all - above[x]) / (above[x - 1] - above[x]);
            }
        }
        return LONGEST;
    }
}
