package org.earslot.clinic;

import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Puts into the audit trail who has seen whom, one line for each page shown. A screen that shows itself again with each
 * press of anybody is one view and not a hundred: whom it shows again within {@link #ONE_VIEW} is not written again,
 * whoever is new on it is.
 */
@Component
public class RecentViews {

    /** A screen left open is written again after this. */
    public static final Duration ONE_VIEW = Duration.ofMinutes(30);

    private static final int MOST_KEPT = 20_000;

    private final ApplicationEventPublisher events;
    private final ClinicClock clock;
    private final TransactionTemplate transaction;

    private final Map<View, Instant> views = new LinkedHashMap<>() {
        @Override
        protected boolean removeEldestEntry(Map.Entry<View, Instant> eldest) {
            return size() > MOST_KEPT;
        }
    };

    RecentViews(ApplicationEventPublisher events, ClinicClock clock, PlatformTransactionManager transactions) {
        this.events = events;
        this.clock = clock;
        this.transaction = new TransactionTemplate(transactions);
    }

    private record View(UUID clinicId, String who, UUID patient, String where) {}

    /**
     * All in one line: a screen shows dozens.
     *
     * @param again whether the screen only shows itself again
     * @param where which screen, without a patient's details
     */
    public void seen(UUID clinicId, String who, boolean again, Collection<UUID> patients, String where) {
        Instant now = clock.now();
        List<UUID> shown = patients.stream()
                .distinct()
                .filter(id -> isNew(new View(clinicId, who, id, where), again, now))
                .toList();
        if (!shown.isEmpty()) {
            transaction.executeWithoutResult(any -> events.publishEvent(Audited.viewed(clinicId, where, shown)));
        }
    }

    private boolean isNew(View view, boolean again, Instant now) {
        synchronized (views) {
            Instant before = views.get(view);
            if (again && before != null && now.isBefore(before.plus(ONE_VIEW))) {
                return false;
            }
            views.remove(view);
            views.put(view, now);
            return true;
        }
    }
}
