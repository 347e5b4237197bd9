package org.earslot.estimate;

import java.time.LocalDateTime;
import net.javacrumbs.shedlock.spring.annotation.SchedulerLock;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Clinics;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.context.annotation.Configuration;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.Scheduled;

/** The fit of the night: once a clinic and night, on whichever server comes first. */
@Configuration
@EnableScheduling
@EnableConfigurationProperties(FitSettings.class)
class NightlyFits {

    private final Clinics clinics;
    private final ClinicClock clock;
    private final FitRuns runs;
    private final StoredVisits visits;
    private final Fits fits;
    private final FitSettings settings;

    NightlyFits(
            Clinics clinics, ClinicClock clock, FitRuns runs, StoredVisits visits, Fits fits, FitSettings settings) {
        this.clinics = clinics;
        this.clock = clock;
        this.runs = runs;
        this.visits = visits;
        this.fits = fits;
        this.settings = settings;
    }

    /** Starts the fit of each clinic whose night's fit is due and not yet claimed. */
    @Scheduled(initialDelayString = "${earslot.fits.every:PT5M}", fixedDelayString = "${earslot.fits.every:PT10M}")
    @SchedulerLock(name = "nightly-fits")
    void startDue() {
        for (Clinic clinic : clinics.findAll()) {
            LocalDateTime local = clock.local(clinic.id(), clock.now());
            boolean due = !local.toLocalTime().isBefore(settings.nightly());
            if (due && visits.count(clinic.id()) > 0 && runs.claimNight(clinic.id(), local.toLocalDate())) {
                fits.fitInBackground(clinic.id());
            }
        }
    }
}
