package org.earslot.day;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import net.javacrumbs.shedlock.spring.annotation.SchedulerLock;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Service;

/** Closes the days that are over, each night. */
@Service
@EnableScheduling
@EnableConfigurationProperties(DayClosingSettings.class)
public class NightlyClosing {

    private final DayClosing closing;
    private final Clinics clinics;
    private final ClinicClock clock;
    private final JdbcTemplate jdbc;
    private final DayClosingSettings settings;

    NightlyClosing(
            DayClosing closing, Clinics clinics, ClinicClock clock, JdbcTemplate jdbc, DayClosingSettings settings) {
        this.closing = closing;
        this.clinics = clinics;
        this.clock = clock;
        this.jdbc = jdbc;
        this.settings = settings;
    }

    /** Closes the days of each clinic that are over by so many nights. */
    @Scheduled(
            initialDelayString = "${earslot.dayclosing.every:PT3M}",
            fixedDelayString = "${earslot.dayclosing.every:PT10M}")
    @SchedulerLock(name = "day-closing")
    public void closeThoseOver() {
        if (settings.nights() < 1) {
            return;
        }
        for (Clinic clinic : clinics.findAll()) {
            LocalDateTime local = clock.local(clinic.id(), clock.now());
            int nights = local.toLocalTime().isBefore(settings.at()) ? settings.nights() + 1 : settings.nights();
            open(clinic.id(), local.toLocalDate().minusDays(nights))
                    .forEach(date -> closing.closeByItself(clinic.id(), date));
        }
    }

    /** The days up to {@code last} with appointments that are open, and were not opened again after it. */
    private List<LocalDate> open(ClinicId clinicId, LocalDate last) {
        return jdbc.queryForList(
                "select distinct a.clinic_date from appointment a"
                        + " left join clinic_day d on d.clinic_id = a.clinic_id and d.day_date = a.clinic_date"
                        + " where a.clinic_id = ? and a.clinic_date <= ? and d.closed_at is null"
                        + " and (d.reopened_at is null or d.reopened_at < ?)",
                LocalDate.class,
                clinicId.value(),
                last,
                clock.at(clinicId, last.plusDays(1), LocalTime.MIDNIGHT).atOffset(ZoneOffset.UTC));
    }
}
