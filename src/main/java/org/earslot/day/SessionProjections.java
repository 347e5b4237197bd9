package org.earslot.day;

import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.policy.PolicyTerms;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * How lists run, worked out once for all screens that show them: a list is projected again when a press or a booking has
 * changed it, and each minute, not each time somebody looks. Kept by all that it rests on, so that nothing has to be
 * forgotten.
 */
@Component
class SessionProjections {

    private static final int MOST = 500;

    private record Content(
            ClinicSession session,
            List<ListedVisit> coming,
            PolicyTerms policy,
            @Nullable LocalTime now) {}

    /** Worked out by whoever asks first; the others wait for it. */
    private static final class Kept {
        private @Nullable SessionProjection run;

        synchronized SessionProjection run(Content content) {
            if (run == null) {
                run = SessionProjector.of(content.session(), content.coming(), content.policy(), content.now());
            }
            return run;
        }
    }

    private final Map<Content, Kept> kept = new LinkedHashMap<>(64, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Content, Kept> eldest) {
            return size() > MOST;
        }
    };

    /**
     * How the list runs, at the last whole minute or the latest press, whichever is later.
     *
     * @param visits in any order; those who do not come are left out
     * @param now the time of the clock on the day itself; null on a plan
     */
    SessionProjection of(ClinicSession session, List<ListedVisit> visits, PolicyTerms policy, @Nullable LocalTime now) {
        List<ListedVisit> coming = SessionProjector.coming(visits);
        Content content = new Content(session, coming, policy, now == null ? null : shown(coming, now));
        Kept one;
        synchronized (kept) {
            one = kept.computeIfAbsent(content, any -> new Kept());
        }
        return one.run(content);
    }

    private static LocalTime shown(List<ListedVisit> coming, LocalTime now) {
        LocalTime minute = now.truncatedTo(ChronoUnit.MINUTES);
        return coming.stream()
                .flatMap(SessionProjections::presses)
                .filter(press -> !press.isAfter(now))
                .reduce(minute, (a, b) -> b.isAfter(a) ? b : a);
    }

    private static Stream<LocalTime> presses(ListedVisit visit) {
        LocalClock times = visit.times();
        InterruptedVisit outside = visit.outside();
        return Stream.of(
                        times.arrived(),
                        times.calledIn(),
                        times.finished(),
                        times.roomReady(),
                        outside == null ? null : outside.from(),
                        outside == null ? null : outside.to())
                .filter(Objects::nonNull);
    }
}
