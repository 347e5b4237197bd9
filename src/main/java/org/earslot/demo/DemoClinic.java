package org.earslot.demo;

import java.io.IOException;
import java.time.LocalDateTime;
import java.util.Optional;
import java.util.function.Predicate;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.estimate.Fits;
import org.earslot.exchange.imports.ApiImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportTerms;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** In demo mode, fills an empty database with the invented clinic, by the same import as anyone's own files. */
@Component
@Profile("demo")
class DemoClinic implements ApplicationRunner {

    private static final Logger LOG = LoggerFactory.getLogger(DemoClinic.class);

    private final DemoSetUp setUp;
    private final ApiImport imports;
    private final Fits fits;
    private final DemoQuestions questions;
    private final ClinicClock clock;

    DemoClinic(DemoSetUp setUp, ApiImport imports, Fits fits, DemoQuestions questions, ClinicClock clock) {
        this.setUp = setUp;
        this.imports = imports;
        this.fits = fits;
        this.questions = questions;
        this.clock = clock;
    }

    @Override
    public void run(ApplicationArguments arguments) throws IOException {
        SeedClinic seed = SeedClinic.read();
        Optional<ClinicId> opened = setUp.open(seed);
        if (opened.isEmpty()) {
            return;
        }
        ClinicId clinicId = opened.get();
        LocalDateTime now = clock.local(clinicId, clock.now());
        long weeks = SeedFile.weeksFrom(seed.anchorDate(), now.toLocalDate());
        take(clinicId, ImportKind.VISIT_LOG, new SeedFile("visit-log.csv", weeks), line -> true);
        // The estimates that bookings are kept with rest on the past visits.
        fits.fit(clinicId);
        take(clinicId, ImportKind.BOOKINGS, new SeedFile("bookings.csv", weeks), line -> true);
        take(clinicId, ImportKind.VISIT_LOG, new SeedFile("this-week.csv", weeks), line -> line.overBy(now));
        questions.answer(clinicId);
        LOG.info("The demo clinic is ready: sign in as shown on the sign-in page");
    }

    private void take(ClinicId clinicId, ImportKind kind, SeedFile file, Predicate<SeedFile.Line> wanted)
            throws IOException {
        ImportRun run = imports.take(new ImportTerms(clinicId, "demo", kind, false, false, false), file.moved(wanted));
        LOG.info("{}: {} lines in, {} rejected", file.name(), run.accepted(), run.rejected());
    }
}
