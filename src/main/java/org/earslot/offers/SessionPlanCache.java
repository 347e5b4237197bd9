package org.earslot.offers;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.ZoneId;
import java.util.List;
import java.util.Set;
import java.util.function.Supplier;
import org.earslot.booking.HeldPlace;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Method;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.OpenList;
import org.springframework.stereotype.Component;

/**
 * Sessions with free places, prepared for the search. One plan a session, compared with all that it depends on: it is made
 * again when, and only when, some of that has changed.
 */
@Component
class SessionPlanCache {

    /** About two clinics' twelve weeks. */
    static final int MAXIMUM_SIZE = 2_000;

    /**
     * What a session's list rests on.
     *
     * @param listed booked places and fit-ins of the practitioner in it
     * @param roomTaken stretches in which another practitioner has the room
     * @param habits version of what was learnt of the clinic
     * @param methods the practitioner's
     * @param zone the clinic's, in which the session's times are
     * @param shared what the visits of a day share, on the log scale
     */
    record Content(
            ClinicSession session,
            List<HeldPlace> listed,
            List<TimeSpan> roomTaken,
            PolicyTerms policy,
            Costs costs,
            String habits,
            Set<Method> methods,
            ZoneId zone,
            double shared) {}

    private record Plan(Content content, OpenList list) {}

    private final Cache<String, Plan> cache = Caffeine.newBuilder()
            .maximumSize(MAXIMUM_SIZE)
            .executor(Runnable::run)
            .build();

    OpenList of(Content content, Supplier<OpenList> making) {
        String session = content.session().key();
        Plan known = cache.getIfPresent(session);
        if (known != null && known.content().equals(content)) {
            return known.list();
        }
        OpenList made = making.get();
        cache.put(session, new Plan(content, made));
        return made;
    }
}
