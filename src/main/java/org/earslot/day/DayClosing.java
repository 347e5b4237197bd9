package org.earslot.day;

import static org.earslot.booking.BookingRefusalCode.NO_REASON;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.DayChanged;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Closes days: from then on their times stay as they are. A person closes one, or {@link NightlyClosing the night} does. The lead may open one
 * again for a reason; it then closes by itself as if that day were the day itself.
 */
@Service
public class DayClosing {

    private static final int LONGEST_REASON = 200;

    private final ClinicClock clock;
    private final RowLocks locks;
    private final DaySchedules diaries;
    private final JdbcTemplate jdbc;
    private final TransactionTemplate transaction;
    private final ApplicationEventPublisher events;

    DayClosing(
            ClinicClock clock,
            RowLocks locks,
            DaySchedules diaries,
            JdbcTemplate jdbc,
            PlatformTransactionManager transactions,
            ApplicationEventPublisher events) {
        this.clock = clock;
        this.locks = locks;
        this.diaries = diaries;
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
        this.events = events;
    }

    /**
     * Closes the day for a person once each visit has an end or the last session is over; never while someone is in the
     * room. Empty where that was done.
     *
     * @param openConfirmed how many visits without an end the person has confirmed; empty where nothing was confirmed
     */
    public Optional<BookingRefusal> close(ClinicId clinicId, LocalDate date, Optional<Integer> openConfirmed) {
        if (date.isAfter(clock.today(clinicId))) {
            return Optional.of(BookingRefusal.dayNotOver(date));
        }
        return closed(clinicId, date, () -> {
            DaySchedule day = diaries.of(clinicId, date);
            int open = day.open().size();
            int underWay = (int) day.open().stream()
                    .filter(line -> line.progress().isUnderWay())
                    .count();
            if (underWay > 0) {
                return BookingRefusal.visitsUnfinished(underWay);
            }
            if (open > 0 && !day.isOver(clock.local(clinicId, clock.now()))) {
                return BookingRefusal.visitsOpen(open);
            }
            return openConfirmed.equals(Optional.of(open)) ? null : BookingRefusal.openVisitsNotConfirmed(open);
        });
    }

    /**
     * Opens a closed day again; empty where that was done.
     *
     * @param reason in a few words, without a patient's details
     */
    public Optional<BookingRefusal> reopen(ClinicId clinicId, LocalDate date, String reason) {
        String why = reason.strip();
        if (why.isEmpty() || why.length() > LONGEST_REASON) {
            return Optional.of(BookingRefusal.of(NO_REASON));
        }
        return Optional.ofNullable(transaction.execute(status -> {
            if (locks.holdDays(clinicId, Set.of(date)).isEmpty()) {
                return BookingRefusal.dayNotClosed(date);
            }
            jdbc.update(
                    "update clinic_day set closed_at = null, reopened_at = ?, reopened_reason = ?"
                            + " where clinic_id = ? and day_date = ?",
                    clock.now().atOffset(ZoneOffset.UTC),
                    why,
                    clinicId.value(),
                    date);
            events.publishEvent(new Audited.Entry(clinicId, "day-reopened", "day", date.toString(), why));
            events.publishEvent(new DayChanged(clinicId, date));
            return null;
        }));
    }

    /** Closes a day that is over, without anybody's word. */
    void closeByItself(ClinicId clinicId, LocalDate date) {
        closed(clinicId, date, () -> null);
    }

    private Optional<BookingRefusal> closed(
            ClinicId clinicId, LocalDate date, Supplier<@Nullable BookingRefusal> rule) {
        return Optional.ofNullable(transaction.execute(status -> {
            if (!locks.holdDays(clinicId, Set.of(date)).isEmpty()) {
                return BookingRefusal.dayClosed(date);
            }
            BookingRefusal refusal = rule.get();
            if (refusal != null) {
                return refusal;
            }
            jdbc.update(
                    "update clinic_day set closed_at = ? where clinic_id = ? and day_date = ?",
                    clock.now().atOffset(ZoneOffset.UTC),
                    clinicId.value(),
                    date);
            events.publishEvent(new Audited.Entry(clinicId, "day-closed", "day", date.toString(), null));
            events.publishEvent(new DayChanged(clinicId, date));
            return null;
        }));
    }
}
