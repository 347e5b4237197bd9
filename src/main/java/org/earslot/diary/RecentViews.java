package org.earslot.diary;

import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/**
 * Puts into the audit trail who has seen whom. A screen that shows itself again with each press of anybody is one view
 * and not a hundred: what it shows again within {@link #ONE_VIEW} is not written again, whoever is new on it is.
 */
@Component
public class RecentViews {

    /** A screen left open is written anew after this. */
    public static final Duration ONE_VIEW = Duration.ofMinutes(30);

    private static final int MOST_KEPT = 20_000;

    private final ApplicationEventPublisher events;
    private final ClinicClock clock;

    private final Map<View, Instant> views = new LinkedHashMap<>() {
        @Override
        protected boolean removeEldestEntry(Map.Entry<View, Instant> eldest) {
            return size() > MOST_KEPT;
        }
    };

    RecentViews(ApplicationEventPublisher events, ClinicClock clock) {
        this.events = events;
        this.clock = clock;
    }

    private record View(UUID clinicId, String who, String subject, String where) {}

    /**
     * @param again whether the screen only shows itself again
     * @param subjectKind {@code patient} or {@code appointment}
     * @param where which screen, without a patient's details
     */
    public void seen(UUID clinicId, String who, boolean again, String subjectKind, UUID subjectId, String where) {
        View view = new View(clinicId, who, subjectId.toString(), where);
        Instant now = clock.now();
        synchronized (views) {
            Instant before = views.get(view);
            if (again && before != null && now.isBefore(before.plus(ONE_VIEW))) {
                return;
            }
            views.remove(view);
            views.put(view, now);
        }
        events.publishEvent(new Audited.Entry(clinicId, "patient-seen", subjectKind, subjectId.toString(), where));
    }
}
