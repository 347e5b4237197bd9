package org.earslot.review;

import java.time.Duration;
import java.time.YearMonth;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.UUID;
import net.javacrumbs.shedlock.core.ClockProvider;
import net.javacrumbs.shedlock.core.LockConfiguration;
import net.javacrumbs.shedlock.core.LockProvider;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Clinics;
import org.earslot.estimate.Fits;
import org.earslot.page.LoggedFailure;
import org.earslot.review.figures.MeasuredVisits;
import org.earslot.review.figures.RunCharts;
import org.earslot.review.figures.Scope;
import org.earslot.visit.VisitLogRevision;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/**
 * Works out the latest months, and the days of the running one, ahead of whoever reads them: soon after an import, a fit, or whatever else they rest on. One
 * server at a time does so for a clinic. Where nothing has changed it only compares.
 */
@Component
class MonthsAhead {

    private static final Logger LOG = LoggerFactory.getLogger(MonthsAhead.class);

    /** Of the latest months, which are those that are read, everything is kept ahead; of older ones their visits' figures. */
    private static final int MONTHS = 3;

    /** Nothing older is kept ahead. */
    private static final int YEARS = 10;

    /** The lock of a server that died expires after this; one that works extends it. */
    static final Duration LOCKED = Duration.ofMinutes(10);

    private final Clinics clinics;
    private final ClinicClock clock;
    private final Fits fits;
    private final VisitLogRevision changes;
    private final MeasuredVisits visits;
    private final MonthParts parts;
    private final KeptWeeks weeks;
    private final KeptChanges kept;
    private final LockProvider locks;

    MonthsAhead(
            Clinics clinics,
            ClinicClock clock,
            Fits fits,
            VisitLogRevision changes,
            MeasuredVisits visits,
            MonthParts parts,
            KeptWeeks weeks,
            KeptChanges kept,
            LockProvider locks) {
        this.clinics = clinics;
        this.clock = clock;
        this.fits = fits;
        this.changes = changes;
        this.visits = visits;
        this.parts = parts;
        this.weeks = weeks;
        this.kept = kept;
        this.locks = locks;
    }

    /** Looks at every clinic in turn, every {@code earslot.reviews.ahead}. */
    @Scheduled(initialDelayString = "${earslot.reviews.ahead:PT2M}", fixedDelayString = "${earslot.reviews.ahead:PT2M}")
    void workOut() {
        for (Clinic clinic : clinics.findAll()) {
            try {
                workOut(clinic.id());
            } catch (RuntimeException e) {
                LOG.warn(
                        "The months of a clinic were not computed in advance; the next reader waits for them",
                        LoggedFailure.of(e));
            }
        }
    }

    /** Works out what is missing of one clinic's months; false where another server is at it or a fit is under way. */
    boolean workOut(UUID clinicId) {
        // What to change rests on the fit, and a fit needs the machine: its end brings this back.
        if (fits.underWay(clinicId).isPresent()) {
            return false;
        }
        Optional<SimpleLock> lock =
                locks.lock(new LockConfiguration(ClockProvider.now(), lockName(clinicId), LOCKED, Duration.ZERO));
        if (lock.isEmpty()) {
            return false;
        }
        try {
            workOutMissing(clinicId);
        } finally {
            lock.get().unlock();
        }
        return true;
    }

    static String lockName(UUID clinicId) {
        return "months-ahead-" + clinicId;
    }

    private void workOutMissing(UUID clinicId) {
        YearMonth latest = latestSettled(clinicId);
        if (visits.lastBefore(clinicId, latest.plusMonths(1).atDay(1), Scope.EVERYONE)
                .isEmpty()) {
            return;
        }
        for (int back = 0; back < MONTHS; back++) {
            YearMonth month = latest.minusMonths(back);
            parts.upTo(clinicId, month, back == 0 ? monthsBack(clinicId, latest) : RunCharts.MONTHS, Scope.EVERYONE);
            kept.after(clinicId, month);
            weeks.in(clinicId, month, Scope.EVERYONE);
            weeks.in(clinicId, month.minusYears(1), Scope.EVERYONE);
        }
        YearMonth now = YearMonth.from(clock.today(clinicId));
        YearMonth month = latest.plusMonths(1);
        while (!month.isAfter(now)) {
            parts.ahead(clinicId, month);
            month = month.plusMonths(1);
        }
    }

    /** So many months up to {@code latest} may have a visit. */
    private int monthsBack(UUID clinicId, YearMonth latest) {
        YearMonth first = latest.minusYears(YEARS);
        return Math.max(RunCharts.MONTHS, (int) first.until(latest, ChronoUnit.MONTHS) + 1);
    }

    private YearMonth latestSettled(UUID clinicId) {
        YearMonth month = YearMonth.from(clock.today(clinicId));
        while (!changes.settled(month)) {
            month = month.minusMonths(1);
        }
        return month;
    }
}
