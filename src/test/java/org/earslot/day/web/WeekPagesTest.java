package org.earslot.day.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedules;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.earslot.testing.SettableClock;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** A week at a glance: what is booked and free in each session, and how likely it ends late. */
@PageTest
class WeekPagesTest {

    @Autowired
    private Scenes scenes;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private DaySchedules schedules;

    @Autowired
    private SettableClock clock;

    private Scene scene;

    @BeforeEach
    void tuesday_nine_o_clock() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        scene = scenes.open();
    }

    @Test
    void says_of_each_session_what_is_booked_and_free() throws Exception {
        Element before = session(week("2026-03-04"), "Wednesday 4 March");
        fixture.appointment(scene.clinic(), DiaryFixture.WEDNESDAY.atTime(9, 30), 40);
        fixture.appointment(scene.clinic(), DiaryFixture.WEDNESDAY.atTime(11, 0), 35);
        Element then = session(week("2026-03-04"), "Wednesday 4 March");
        assertThat(before.child(2).text()).isEqualTo("0");
        assertThat(then.child(2).text()).isEqualTo("2");
        assertThat(minutes(before.child(3).text()) - minutes(then.child(3).text()))
                .isEqualTo(75);
    }

    @Test
    void counts_those_who_are_booked_outside_a_session() throws Exception {
        fixture.appointment(scene.clinic(), DiaryFixture.WEDNESDAY.atTime(9, 30), 40);
        assertThat(week("2026-03-04").text()).doesNotContain("outside a session");
        scene.lead()
                .sendsForm("/setup/exceptions", "kind", "closed", "date", "2026-03-04", "reason", "training day")
                .andExpect(status().is3xxRedirection());
        assertThat(week("2026-03-04").text()).contains("P1 outside a session 1");
    }

    /** The figure is the day's own: both pages show the same projection. */
    @Test
    void late_end_is_the_same_as_on_the_day_and_marked_beyond_the_limit() throws Exception {
        for (int i = 0; i < 8; i++) {
            fixture.appointment(
                    scene.clinic(), DiaryFixture.WEDNESDAY.atTime(15, 0).plusMinutes(15L * i), 15);
        }
        DaySchedule.Session held = schedules
                .of(scene.clinicId(), DiaryFixture.WEDNESDAY)
                .lane(scene.clinic().p1())
                .orElseThrow()
                .sessions()
                .get(0);
        assertThat(held.run().pastEnd()).isGreaterThan(0.5);
        String late = Math.round(100 * held.run().pastEnd()) + " %";
        Element row = session(week("2026-03-02"), "Wednesday 4 March");
        assertThat(row.child(4).text()).startsWith(late).contains("over the limit");
        assertThat(scene.receptionist().page("/day/2026-03-04")).contains(late + " chance of finishing late");
    }

    @Test
    void leads_to_each_day_and_to_the_weeks_beside_it_and_names_no_patient() throws Exception {
        fixture.appointment(scene.clinic(), DiaryFixture.WEDNESDAY.atTime(9, 30), 40);
        Document week = week("2026-03-05");
        assertThat(week.select(".day-row a").eachAttr("href"))
                .startsWith("/day/2026-03-02", "/day/2026-03-03", "/day/2026-03-04");
        assertThat(week.select(".day-steps a.step").eachAttr("href"))
                .containsExactly("/day/2026-02-26/week", "/day/2026-03-12/week");
        assertThat(week.select(".day-row a[aria-current]").text()).isEqualTo("Tuesday 3 March");
        schedules
                .of(scene.clinicId(), DiaryFixture.WEDNESDAY)
                .lines()
                .forEach(line ->
                        assertThat(week.text()).doesNotContain(line.who().name()));
        assertThat(Jsoup.parse(scene.practitioner().page("/day/2026-03-05"))
                        .select(".day-views a[href=/day/2026-03-05/week]"))
                .hasSize(1);
    }

    @Test
    void counts_today_only_what_is_still_free() throws Exception {
        int atNine =
                minutes(session(week("2026-03-03"), "Tuesday 3 March").child(3).text());
        clock.set(Instant.parse("2026-03-03T10:30:00Z"));
        assertThat(atNine
                        - minutes(session(week("2026-03-03"), "Tuesday 3 March")
                                .child(3)
                                .text()))
                .isEqualTo(90);
        assertThat(session(week("2026-03-02"), "Monday 2 March").child(3).text())
                .isEqualTo("over");
        clock.set(Instant.parse("2026-03-03T18:00:00Z"));
        assertThat(session(week("2026-03-03"), "Tuesday 3 March").child(3).text())
                .isEqualTo("over");
    }

    private Document week(String date) throws Exception {
        return Jsoup.parse(scene.receptionist().page("/day/" + date + "/week"));
    }

    /** The first session under the day so named. */
    private static Element session(Document week, String day) {
        Element row = week.select(".day-row:contains(" + day + ")").first();
        assertThat(row).as(day).isNotNull();
        assertThat(row.nextElementSibling()).as("session of " + day).isNotNull();
        return row.nextElementSibling();
    }

    /** As in "7 h 15 min" or "45 min". */
    private static int minutes(String written) {
        String[] parts = written.split(" ");
        return parts.length == 2
                ? Integer.parseInt(parts[0])
                : Integer.parseInt(parts[0]) * 60 + Integer.parseInt(parts[2]);
    }
}
