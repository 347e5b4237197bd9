package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.clinic.TimeSpan;
import org.earslot.day.ClockCommand;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.daysheet.BookedDay.Wish;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.web.servlet.MockMvc;

/** The running list on the days on which the clocks change, and when two tablets press at once. */
@PageTest
class ClockChangeDaysTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private BookedDay bookings;

    @Autowired
    private Appointments appointments;

    @Autowired
    private RunningDay running;

    @Autowired
    private SettableClock clock;

    @Autowired
    private JdbcTemplate jdbc;

    private TestClinic clinic;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open();
    }

    /** In London the clocks go forward on 29 March 2026 and back on 25 October 2026, both at 01:00 UTC (tz database). */
    @ParameterizedTest
    @ValueSource(strings = {"2026-03-29", "2026-10-25"})
    void a_kept_press_keeps_the_time_of_the_wall_clock(String date) throws Exception {
        LocalDate day = LocalDate.parse(date);
        UUID id = book(day);
        clock.set(at(day, "09:20"));
        assertThat(press(id, ClockEvent.CALLED_IN, Duration.ofMinutes(15), UUID.randomUUID()))
                .isInstanceOf(Done.class);
        mvc.perform(get("/day/" + day + "/now").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("since 09:05: 15 min")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"2026-03-29", "2026-10-25"})
    void a_press_from_before_midnight_is_not_of_the_day(String date) {
        LocalDate day = LocalDate.parse(date);
        UUID id = book(day);
        clock.set(at(day, "03:30"));
        // Three and a half hours by the wall clock are two and a half or four and a half of time.
        Duration sinceMidnight = Duration.between(at(day, "00:00"), at(day, "03:30"));
        assertThat(sinceMidnight).isNotEqualTo(Duration.ofMinutes(210));
        assertThat(press(id, ClockEvent.ARRIVED, sinceMidnight.plusSeconds(1), UUID.randomUUID()))
                .isNotInstanceOf(Done.class);
        assertThat(press(id, ClockEvent.ARRIVED, sinceMidnight, UUID.randomUUID()))
                .isInstanceOf(Done.class);
    }

    @Test
    void a_session_past_midnight_is_refused() {
        assertThatIllegalArgumentException().isThrownBy(() -> new TimeSpan(LocalTime.of(22, 0), LocalTime.of(1, 0)));
    }

    @Test
    void the_same_press_from_many_sides_at_once_counts_once() throws Exception {
        LocalDate day = LocalDate.of(2026, 3, 3);
        UUID id = book(day);
        clock.set(at(day, "09:20"));
        UUID key = UUID.randomUUID();
        List<BookingResult> same = together(() -> press(id, ClockEvent.CALLED_IN, Duration.ofMinutes(5), key));
        assertThat(same).hasSize(8).allMatch(Done.class::isInstance);
        assertThat(jdbc.queryForObject("select count(*) from press where appointment_id = ?", Integer.class, id))
                .isEqualTo(1);
        assertThat(appointment(id).times().calledIn()).isEqualTo(at(day, "09:15"));
    }

    @Test
    void of_two_tablets_that_press_at_once_one_is_told_it_was_done() throws Exception {
        LocalDate day = LocalDate.of(2026, 3, 3);
        UUID id = book(day);
        clock.set(at(day, "09:20"));
        List<BookingResult> each = together(() -> press(id, ClockEvent.CALLED_IN, Duration.ZERO, UUID.randomUUID()));
        assertThat(each).filteredOn(Done.class::isInstance).hasSize(1);
        assertThat(jdbc.queryForObject("select count(*) from press where appointment_id = ?", Integer.class, id))
                .isEqualTo(1);
    }

    private static List<BookingResult> together(Callable<BookingResult> press) throws Exception {
        ExecutorService tablets = Executors.newFixedThreadPool(8);
        try {
            List<Future<BookingResult>> answers =
                    tablets.invokeAll(IntStream.range(0, 8).mapToObj(i -> press).toList());
            List<BookingResult> results = new ArrayList<>();
            for (Future<BookingResult> answer : answers) {
                results.add(answer.get());
            }
            return results;
        } finally {
            tablets.shutdown();
        }
    }

    private BookingResult press(UUID id, ClockEvent event, Duration age, UUID key) {
        return running.press(clinic.id(), new ClockCommand(key, id, event, age), "p1");
    }

    private UUID book(LocalDate day) {
        return bookings.book(
                clinic, clinic.p1(), clinic.r1(), day, "09:00", 30, Wish.of("K1", Method.MICROSUCTION, Ears.BOTH));
    }

    private Appointment appointment(UUID id) {
        return appointments.findById(id).orElseThrow();
    }

    private static Instant at(LocalDate day, String time) {
        return day.atTime(LocalTime.parse(time))
                .atZone(ZoneId.of("Europe/London"))
                .toInstant();
    }
}
