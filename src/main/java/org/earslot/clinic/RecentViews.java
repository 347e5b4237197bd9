package org.earslot.clinic;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.Duration;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
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

    static final int MAXIMUM_SIZE = 20_000;

    private final ApplicationEventPublisher events;
    private final TransactionTemplate transaction;

    /** The views of the last {@link #ONE_VIEW}; which ones is all that counts. */
    private final Cache<View, Boolean> views;

    RecentViews(ApplicationEventPublisher events, ClinicClock clock, PlatformTransactionManager transactions) {
        this.events = events;
        this.transaction = new TransactionTemplate(transactions);
        this.views = Caffeine.newBuilder()
                .maximumSize(MAXIMUM_SIZE)
                .expireAfterWrite(ONE_VIEW)
                .ticker(() -> TimeUnit.SECONDS.toNanos(clock.now().getEpochSecond()))
                .executor(Runnable::run)
                .build();
    }

    private record View(ClinicId clinicId, String who, UUID patient, String where) {}

    /**
     * All in one line: a screen shows dozens.
     *
     * @param again whether the screen only shows itself again
     * @param where which screen, without a patient's details
     */
    public void seen(ClinicId clinicId, String who, boolean again, Collection<UUID> patients, String where) {
        List<UUID> shown = patients.stream()
                .distinct()
                .filter(id -> isNew(new View(clinicId, who, id, where), again))
                .toList();
        if (!shown.isEmpty()) {
            transaction.executeWithoutResult(any -> events.publishEvent(Audited.viewed(clinicId, where, shown)));
        }
    }

    private boolean isNew(View view, boolean again) {
        boolean known = views.asMap().putIfAbsent(view, true) != null;
        if (known && !again) {
            views.put(view, true);
        }
        return !known || !again;
    }
}
