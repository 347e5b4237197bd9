package org.earslot.offers;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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
 * Sessions with free places, made ready to be asked about. Each is kept by all that it rests on, so that it is made again
 * when, and only when, something of that has changed.
 */
@Component
class SessionPlanCache {

    /** About two clinics' twelve weeks; who was not asked about for longest goes first. */
    private static final int MOST = 2_000;

    /**
     * What a session's list rests on.
     *
     * @param listed booked places and fit-ins of the practitioner in it
     * @param roomTaken stretches in which another practitioner has the room
     * @param habits version of what was learnt of the clinic
     * @param methods the practitioner's
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
            double shared) {}

    private record Kept(Content content, OpenList list) {}

    private final Map<String, Kept> kept = new LinkedHashMap<>(64, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Kept> eldest) {
            return size() > MOST;
        }
    };

    OpenList of(Content content, Supplier<OpenList> making) {
        String key = content.session().key();
        synchronized (kept) {
            Kept known = kept.get(key);
            if (known != null && known.content().equals(content)) {
                return known.list();
            }
        }
        OpenList made = making.get();
        synchronized (kept) {
            kept.put(key, new Kept(content, made));
        }
        return made;
    }
}
