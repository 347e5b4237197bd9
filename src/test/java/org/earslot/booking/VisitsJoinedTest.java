package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.UUID;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Attendance;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.earslot.visit.VisitsImported;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.support.TransactionTemplate;

/** What an import changes in the log of a visit of the day, its appointment knows: a later press loses nothing of it. */
@PageTest
class VisitsJoinedTest {

    private static final Instant TEN = Instant.parse("2026-03-04T10:00:00Z");

    @Autowired
    private RunningDay running;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Visits visits;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private SettableClock clock;

    @Autowired
    private JdbcTemplate jdbc;

    @Autowired
    private ApplicationEventPublisher events;

    @Autowired
    private TransactionTemplate inTransaction;

    private TestClinic clinic;
    private UUID id;

    @BeforeEach
    void a_visit_in_the_room() {
        clinic = clinics.open();
        id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        clock.set(TEN);
        assertThat(running.record(clinic.id(), id, ClockEvent.CALLED_IN)).isInstanceOf(Done.class);
        clock.set(TEN.plusSeconds(3000));
    }

    @Test
    void a_finished_time_that_was_imported_is_not_overwritten_by_a_press() {
        Instant finished = TEN.plusSeconds(1200);
        imported(finished);
        assertThat(running.record(clinic.id(), id, ClockEvent.FINISHED)).isInstanceOf(NotDone.class);
        assertThat(running.record(clinic.id(), id, ClockEvent.ROOM_READY)).isInstanceOf(Done.class);
        assertThat(visit().finished()).contains(finished);
        assertThat(visit().roomReady()).contains(TEN.plusSeconds(3000));
        assertThat(visit().attendance()).contains(Attendance.ATTENDED);
    }

    @Test
    void an_appointment_whose_visit_no_import_has_changed_stays_as_it_is() {
        int version = appointments.findById(id).orElseThrow().version();
        publish();
        assertThat(appointments.findById(id).orElseThrow().version()).isEqualTo(version);
    }

    @Test
    void a_reason_for_not_coming_that_was_imported_is_taken_over_though_no_time_changes() {
        UUID missed = fixture.appointment(clinic, WEDNESDAY.atTime(11, 0), 20);
        clock.set(TEN.plusSeconds(7200));
        assertThat(running.didNotAttend(clinic.id(), missed, null)).isInstanceOf(Done.class);
        UUID row = appointments.findById(missed).orElseThrow().visitId().orElseThrow();
        jdbc.update(
                "update visit set attendance = 'cancelled_by_patient', content_hash = 'line', version = version + 1"
                        + " where id = ?",
                row);
        publish();
        assertThat(appointments.findById(missed).orElseThrow().clockRecord().attendance())
                .isEqualTo(Attendance.CANCELLED_BY_PATIENT);
    }

    /** As an import writes a line: the row, and the mark of its content. */
    private void imported(Instant finished) {
        jdbc.update(
                "update visit set finished = ?, attendance = 'attended', content_hash = 'line', version = version + 1"
                        + " where id = ?",
                OffsetDateTime.ofInstant(finished, ZoneOffset.UTC),
                visit().id());
        publish();
    }

    private void publish() {
        inTransaction.executeWithoutResult(status -> events.publishEvent(new VisitsImported(clinic.id(), 1)));
    }

    private Visit visit() {
        return visits.findById(appointments.findById(id).orElseThrow().visitId().orElseThrow())
                .orElseThrow();
    }
}
