package org.earslot.offers;

import java.lang.management.ManagementFactory;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.UUID;
import org.earslot.Earslot;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.DiaryFixture;
import org.earslot.booking.PlannedVisit;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.Fits;
import org.earslot.estimate.InventedLog;
import org.earslot.invented.InventedVisit;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.referral.Referral;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * How long offers take through the service with PostgreSQL: twelve weeks of four practitioners, diaries 80 % full, an
 * estimator fitted on 2,500 visits. After each search the best offer is booked, so that lists change as they do at the
 * desk. Beside it, in the same run, the plain rule that goes to the end of what is booked. Aim: 200 ms at the 95th
 * percentile.
 */
public final class OffersBench {

    private static final int SEARCHES = Integer.getInteger("searches", 150);
    private static final int WARM_UP = Integer.getInteger("warmUp", 60);
    private static final double FULL = 0.8;

    private final ConfigurableApplicationContext app;
    private final TestClinic clinic;
    private final Random random = new Random(7);

    private OffersBench(ConfigurableApplicationContext app) {
        this.app = app;
        this.clinic = app.getBean(TestClinics.class).open();
    }

    public static void main(String[] args) {
        try (ConfigurableApplicationContext app = SpringApplication.run(
                Earslot.class,
                "--server.port=0",
                "--spring.main.banner-mode=off",
                "--logging.level.root=WARN",
                "--earslot.fits.after-import=1h",
                "--spring.datasource.url=" + PostgresServer.newDatabase(),
                "--spring.datasource.username=" + PostgresServer.user(),
                "--spring.datasource.password=" + PostgresServer.password())) {
            new OffersBench(app).run();
        }
        System.exit(0);
    }

    private void run() {
        secondPair();
        List<InventedVisit> log = app.getBean(InventedLog.class).keep(clinic, 3, 2500);
        app.getBean(Fits.class).fit(clinic.id());
        System.out.printf(Locale.ROOT, "diaries %.0f %% full, %d booked%n", 100 * fill(log), booked);
        List<Referral> referrals = referrals(2 * (SEARCHES + WARM_UP) + 1);
        System.out.printf(Locale.ROOT, "first search of all: %.0f ms%n", search(referrals.remove(0)).wall);
        Took[] whole = new Took[SEARCHES];
        Took[] end = new Took[SEARCHES];
        for (int i = -WARM_UP; i < SEARCHES; i++) {
            byWholeList(true);
            Took one = search(referrals.remove(0));
            byWholeList(false);
            Took other = search(referrals.remove(0));
            if (i >= 0) {
                whole[i] = one;
                end[i] = other;
            }
        }
        tell("by the whole list", walls(whole));
        tell("to the end (reference)", walls(end));
        tell("by the whole list, processor", processors(whole));
        tell("to the end, processor", processors(end));
        System.out.printf(
                Locale.ROOT, "ratio at the 95th percentile: %.2f%n", at(walls(whole), 0.95) / at(walls(end), 0.95));
    }

    /** Milliseconds; the processor's time of this program beside the wall's, which means little where others work too. */
    private record Took(double wall, double processor) {

        static Took since(long wall, long processor) {
            return new Took((System.nanoTime() - wall) / 1e6, (processorTime() - processor) / 1e6);
        }

        static long processorTime() {
            return ManagementFactory.getPlatformMXBean(com.sun.management.OperatingSystemMXBean.class)
                    .getProcessCpuTime();
        }
    }

    private static double[] walls(Took[] all) {
        return Arrays.stream(all).mapToDouble(Took::wall).toArray();
    }

    private static double[] processors(Took[] all) {
        return Arrays.stream(all).mapToDouble(Took::processor).toArray();
    }

    private static void tell(String what, double[] milliseconds) {
        System.out.printf(
                Locale.ROOT,
                "%-36s p50 %6.1f ms, p95 %6.1f ms, most %6.1f ms%n",
                what,
                at(milliseconds, 0.5),
                at(milliseconds, 0.95),
                at(milliseconds, 1));
    }

    private static double at(double[] all, double share) {
        double[] sorted = all.clone();
        Arrays.sort(sorted);
        return sorted[Math.min(sorted.length - 1, (int) Math.ceil(share * sorted.length) - 1)];
    }

    /** The search alone; then the best offer is booked. */
    private Took search(Referral referral) {
        long wall = System.nanoTime();
        long processor = Took.processorTime();
        Offers found = (Offers) app.getBean(Slots.class).search(clinic.id(), SlotWish.of(referral.id()));
        Took took = Took.since(wall, processor);
        BookingResult result = app.getBean(Booking.class)
                .book(
                        clinic.id(),
                        new OfReferral(referral.id(), found.best().get(0).place()),
                        "bench");
        if (!(result instanceof Done)) {
            throw new IllegalStateException("an offer could not be booked: " + result);
        }
        return took;
    }

    private void byWholeList(boolean whole) {
        app.getBean(TransactionTemplate.class)
                .executeWithoutResult(any -> app.getBean(Policies.class)
                        .findById(clinic.id())
                        .orElseThrow()
                        .offerByWholeList(whole));
    }

    private void secondPair() {
        for (int i = 3; i <= 4; i++) {
            UUID practitioner = app.getBean(Practitioners.class)
                    .save(new Practitioner(
                            UUID.randomUUID(), clinic.id(), "P" + i, Ear.RIGHT, EnumSet.allOf(Method.class)))
                    .id();
            UUID room = app.getBean(Rooms.class)
                    .save(new Room(UUID.randomUUID(), clinic.id(), "R" + i))
                    .id();
            for (DayOfWeek day : DayOfWeek.values()) {
                if (day.getValue() <= 5) {
                    app.getBean(WeeklySessions.class)
                            .save(new WeeklySession(
                                    UUID.randomUUID(),
                                    clinic.id(),
                                    practitioner,
                                    room,
                                    day,
                                    new TimeSpan(LocalTime.of(9, 0), LocalTime.of(17, 0)),
                                    new TimeSpan(LocalTime.of(13, 0), LocalTime.of(13, 30)),
                                    LocalDate.of(2025, 1, 1)));
                }
            }
        }
    }

    private int booked;

    /** Books into each session of the twelve weeks, gap by gap, until that share of its minutes is taken. */
    private double fill(List<InventedVisit> log) {
        List<Estimate> estimates = app.getBean(Estimates.class)
                .estimateAll(
                        clinic.id(),
                        log.subList(0, 120).stream()
                                .map(visit -> InventedLog.plan(clinic, visit))
                                .toList());
        ClinicClock clock = app.getBean(ClinicClock.class);
        LocalDate today = clock.today(clinic.id());
        List<Appointment> all = new ArrayList<>();
        double taken = 0;
        double whole = 0;
        for (ClinicSession session :
                app.getBean(Sessions.class).between(clinic.id(), today.plusDays(1), today.plusWeeks(Slots.WEEKS))) {
            LocalTime at = session.span().from();
            double minutes = 0;
            double length = session.span().minutes()
                    - session.pause().map(TimeSpan::minutes).orElse(0);
            while (minutes < FULL * length) {
                int n = random.nextInt(estimates.size());
                Estimate estimate = estimates.get(n);
                InventedVisit.Told told = log.get(n).told();
                at = at.plusMinutes(random.nextInt(4) == 0 ? 20 : 0);
                TimeSpan span = new TimeSpan(at, at.plusMinutes(estimate.slotMinutes()));
                if (!session.holds(span)) {
                    if (!at.isBefore(LocalTime.of(16, 30))) {
                        break;
                    }
                    at = at.plusMinutes(5);
                    continue;
                }
                PlannedVisit planned = new PlannedVisit(
                        null, null, null, told.method(), told.ears(), estimate.estimated(), estimate.version());
                all.add(Appointment.booked(
                        UUID.randomUUID(),
                        clinic.id(),
                        planned,
                        new BookedPlace(
                                session.practitionerId(),
                                session.roomId(),
                                session.date(),
                                clock.at(clinic.id(), session.date(), at),
                                estimate.slotMinutes()),
                        "bench",
                        clock.now().minus(Duration.ofDays(1))));
                minutes += estimate.slotMinutes();
                at = span.to();
            }
            taken += minutes;
            whole += length;
        }
        app.getBean(Appointments.class).saveAllAndFlush(all);
        booked = all.size();
        return taken / whole;
    }

    private List<Referral> referrals(int count) {
        DiaryFixture fixture = app.getBean(DiaryFixture.class);
        List<Referral> referrals = new ArrayList<>();
        Ears[] ears = {Ears.BOTH, Ears.LEFT, Ears.RIGHT};
        for (int i = 0; i < count; i++) {
            referrals.add(fixture.referral(
                    clinic,
                    DiaryFixture.details(
                            Method.values()[i % Method.values().length], ears[random.nextInt(3)], null, null, null)));
        }
        return referrals;
    }
}
