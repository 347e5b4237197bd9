package org.earslot.review.figures;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A figure of a closed month that comes out otherwise from the visits as they are recorded now.
 *
 * @param figure names the figure in message files
 * @param then as it was reported; null where it was not known
 * @param now as it is now; null where it is not known
 */
public record Correction(
        String figure, @Nullable Double then, @Nullable Double now) {

    private static final double SAME = 1e-6;

    /** The figures of the head line that differ, in its order. */
    public static List<Correction> between(HeadLine then, HeadLine now) {
        List<Correction> all = new ArrayList<>();
        all.add(new Correction("visits", (double) then.visits(), (double) now.visits()));
        all.add(new Correction("late", percent(then.calledInLate()), percent(now.calledInLate())));
        all.add(new Correction("overruns", percent(then.overruns()), percent(now.overruns())));
        all.add(new Correction("wait", then.meanWait(), now.meanWait()));
        all.add(new Correction("absent", (double) then.didNotAttend(), (double) now.didNotAttend()));
        all.add(new Correction("lateNotSeen", (double) then.lateNotSeen(), (double) now.lateNotSeen()));
        all.add(new Correction(
                "cancelledByPatient", (double) then.cancelledByPatient(), (double) now.cancelledByPatient()));
        all.add(new Correction(
                "cancelledByClinic", (double) then.cancelledByClinic(), (double) now.cancelledByClinic()));
        all.add(new Correction("untimed", (double) then.untimed(), (double) now.untimed()));
        all.add(new Correction(
                "overtime", then.sessions().overtime(), now.sessions().overtime()));
        all.add(new Correction("idle", then.sessions().idle(), now.sessions().idle()));
        all.add(new Correction(
                "utilisation",
                percent(then.sessions().utilisation()),
                percent(now.sessions().utilisation())));
        return all.stream().filter(Correction::differs).toList();
    }

    private static @Nullable Double percent(Share share) {
        return percent(share.share());
    }

    private static @Nullable Double percent(@Nullable Double share) {
        return share == null ? null : share * 100;
    }

    private boolean differs() {
        return then == null || now == null ? then != now : Math.abs(then - now) > SAME;
    }
}
