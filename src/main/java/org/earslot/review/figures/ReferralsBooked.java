package org.earslot.review.figures;

import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.YearMonth;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** How long referrals wait for their first appointment, counted by dates in the database. */
@Repository
public class ReferralsBooked {

    /**
     * The first booked of a referral's appointments counts, on the day it stands at now; a mistaken entry never. As a case,
     * since each referral's others are then looked up by index; else all appointments ever booked would be read.
     */
    private static final String DAYS = """
            select referral.received_on, booked.clinic_date, count(*) as referrals
            from appointment booked join referral on referral.id = booked.referral_id
            where booked.clinic_id = :clinic and booked.booked_at >= :from and booked.booked_at < :before
              and booked.status <> 'entered-in-error'
              and (cast(:practitioner as uuid) is null or booked.practitioner_id = :practitioner)
              and case when exists (select 1 from appointment earlier where earlier.referral_id = booked.referral_id
                and earlier.status <> 'entered-in-error' and (earlier.booked_at < booked.booked_at
                  or (earlier.booked_at = booked.booked_at and (earlier.clinic_date < booked.clinic_date
                    or (earlier.clinic_date = booked.clinic_date and earlier.id < booked.id))))) then 1 else 0 end = 0
            group by referral.received_on, booked.clinic_date""";

    private final JdbcClient database;

    ReferralsBooked(JdbcClient database) {
        this.database = database;
    }

    public WeeksToAppointment in(ClinicId clinicId, YearMonth month, ZoneId zone, Scope whose) {
        List<Integer> days = new ArrayList<>();
        within(DAYS, clinicId, month, zone, whose).query(row -> {
            long waited = ChronoUnit.DAYS.between(
                    row.getObject("received_on", LocalDate.class), row.getObject("clinic_date", LocalDate.class));
            days.addAll(Collections.nCopies(row.getInt("referrals"), (int) waited));
        });
        days.sort(null);
        return WeeksToAppointment.of(days);
    }

    private JdbcClient.StatementSpec within(String sql, ClinicId clinicId, YearMonth month, ZoneId zone, Scope whose) {
        return database.sql(sql)
                .param("clinic", clinicId.value())
                .param("from", start(month, zone))
                .param("before", start(month.plusMonths(1), zone))
                .param("practitioner", whose.practitionerId());
    }

    private static OffsetDateTime start(YearMonth month, ZoneId zone) {
        return month.atDay(1).atStartOfDay(zone).toOffsetDateTime();
    }
}
