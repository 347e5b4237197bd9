package org.earslot.day;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.policy.PolicyTerms;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * How lists run, computed once for all screens that show them: a list is projected again when a press or a booking has
 * changed it, and each minute, not each time somebody looks. The key is all that a projection depends on, so no entry
 * has to be invalidated; screens that ask at the same moment wait for one computation.
 */
@Component
class SessionProjections {

    static final int MAXIMUM_SIZE = 500;

    private record Content(
            ClinicSession session,
            List<ListedVisit> coming,
            PolicyTerms policy,
            @Nullable LocalTime now) {}

    private final Cache<Content, SessionProjection> cache = Caffeine.newBuilder()
            .initialCapacity(MAXIMUM_SIZE)
            .maximumSize(MAXIMUM_SIZE)
            .executor(Runnable::run)
            .build();

    /**
     * How the list runs, at the last whole minute or the latest press, whichever is later.
     *
     * @param visits in any order; those who do not come are left out
     * @param now the time of the clock on the day itself; null on a plan
     */
    SessionProjection of(ClinicSession session, List<ListedVisit> visits, PolicyTerms policy, @Nullable LocalTime now) {
        List<ListedVisit> coming = SessionProjector.coming(visits);
        Content content = new Content(session, coming, policy, now == null ? null : shown(coming, now));
        return cache.get(content, key -> SessionProjector.of(key.session(), key.coming(), key.policy(), key.now()));
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
