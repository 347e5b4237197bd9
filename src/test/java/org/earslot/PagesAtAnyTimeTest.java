package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageWalk;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.annotation.DirtiesContext;
import org.springframework.test.context.ActiveProfiles;
import org.springframework.test.context.TestPropertySource;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/**
 * Every page of every role, read at many moments in the demo clinic: the hours of a working day, weekends, both changes
 * of the clock, the ends of months and years, a leap day. Pages are found by following links from the first page, as
 * somebody would who opens everything.
 */
@PageTest
@ActiveProfiles("demo")
@DirtiesContext
@TestPropertySource(properties = "earslot.fits.every=PT24H")
class PagesAtAnyTimeTest {

    private static final ZoneId LONDON = ZoneId.of("Europe/London");

    /** Pages that look alike are read so many times: addresses that differ in their ids, dates and numbers alone. */
    private static final int ALIKE = 1;

    /** Read at every moment, with that moment's date and month in them. */
    private static final List<String> OF_THE_MOMENT = List.of(
            "/", "/day", "/day/DATE", "/day/DATE/now", "/day/DATE/sheet", "/referrals", "/referrals/new", "/kit");

    private static final List<String> FOR_PROGRAMS =
            List.of("/api/v1/days/DATE", "/api/v1/reviews/MONTH", "/api/v1/bookings?from=DATE", "/api/v1/estimator");

    /** Days far from the demo's own, with somebody booked in each: a page without visits shows little. */
    private static final List<String> FAR_DAYS = List.of(
            "2026-12-31,09:20",
            "2027-01-01,09:20",
            "2027-03-26,10:00",
            "2027-03-28,03:10",
            "2027-03-29,09:00",
            "2027-10-29,10:00",
            "2027-10-31,01:30",
            "2027-11-01,09:00",
            "2028-02-28,09:00",
            "2028-02-29,09:20",
            "2028-03-01,10:00");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private SettableClock clock;

    @Autowired
    private Clinics clinics;

    @Autowired
    private Practitioners practitioners;

    private final Map<String, RequestPostProcessor> roles = new LinkedHashMap<>();
    private ClinicId clinic;
    private static boolean filled;

    @BeforeEach
    void whoLooks() throws Exception {
        clinic = clinics.findAll().stream().map(Clinic::id).findFirst().orElseThrow();
        UUID practitioner = practitioners.findByClinicIdOrderByName(clinic).stream()
                .map(Practitioner::id)
                .findFirst()
                .orElseThrow();
        roles.put("receptionist", SignedIn.receptionist(clinic));
        roles.put("practitioner", SignedIn.practitioner(clinic, practitioner));
        roles.put("lead", SignedIn.lead(clinic));
        fillFarDays();
    }

    static Stream<LocalDateTime> moments() {
        Stream<LocalDateTime> hours = IntStream.rangeClosed(6, 20)
                .mapToObj(hour -> LocalDate.of(2026, 3, 4).atTime(hour, 21));
        Stream<LocalDateTime> others = Stream.of(
                        "2026-03-07T11:00",
                        "2026-03-08T23:59",
                        "2026-03-31T23:59",
                        "2026-04-01T00:00",
                        "2026-12-31T10:05",
                        "2026-12-31T23:59",
                        "2027-01-01T00:00",
                        "2027-01-01T09:31",
                        "2027-03-27T12:00",
                        "2027-03-28T00:30",
                        "2027-03-28T03:30",
                        "2027-03-29T09:10",
                        "2027-10-30T12:00",
                        "2027-10-31T01:40",
                        "2027-11-01T09:10",
                        "2028-02-28T17:00",
                        "2028-02-29T09:45",
                        "2028-02-29T23:59",
                        "2028-03-01T00:00")
                .map(LocalDateTime::parse);
        return Stream.concat(hours, others);
    }

    @ParameterizedTest
    @MethodSource("moments")
    void pagesOfTheDayAnswer(LocalDateTime moment) throws Exception {
        at(moment.atZone(LONDON).toInstant());
        for (var role : roles.entrySet()) {
            for (String page : OF_THE_MOMENT) {
                read(role.getKey(), role.getValue(), dated(page, moment));
            }
        }
        for (String address : FOR_PROGRAMS) {
            read("program", SignedIn.program(clinic), dated(address, moment));
        }
    }

    /** The hour that happens twice, both times. */
    @Test
    void pagesOfTheHourThatComesTwiceAnswer() throws Exception {
        for (String instant : List.of("2027-10-31T00:40:00Z", "2027-10-31T01:40:00Z")) {
            at(Instant.parse(instant));
            for (var role : roles.entrySet()) {
                for (String page : OF_THE_MOMENT) {
                    read(role.getKey(), role.getValue(), dated(page, LocalDateTime.parse("2027-10-31T01:40")));
                }
            }
        }
    }

    @ParameterizedTest
    @MethodSource("momentsOfAll")
    void everyPageThatALinkLeadsToAnswers(LocalDateTime moment) throws Exception {
        at(moment.atZone(LONDON).toInstant());
        for (var role : roles.entrySet()) {
            PageWalk walk = new PageWalk((address, place) -> read(role.getKey(), role.getValue(), address), ALIKE);
            int pages = walk.from(dated("/day/DATE", moment), "/");
            assertThat(pages).as("pages that the %s finds", role.getKey()).isBetween(20, 300);
        }
    }

    static Stream<LocalDateTime> momentsOfAll() {
        return Stream.of(
                        "2026-03-04T10:21",
                        "2026-03-04T19:40",
                        "2026-03-08T12:00",
                        "2026-04-01T00:00",
                        "2027-01-01T09:31",
                        "2027-03-28T03:30",
                        "2027-10-31T01:40",
                        "2028-02-29T09:45")
                .map(LocalDateTime::parse);
    }

    private MockHttpServletResponse read(String role, RequestPostProcessor who, String address) throws Exception {
        MockHttpServletResponse answer = mvc.perform(
                        get(java.net.URI.create(address)).with(who))
                .andReturn()
                .getResponse();
        assertThat(answer.getStatus())
                .as("%s reads %s at %s: %s", role, address, clock.instant(), answer.getContentAsString())
                .isIn(200, 302, 303);
        if (String.valueOf(answer.getContentType()).startsWith("text/html")) {
            assertThat(Jsoup.parse(answer.getContentAsString()).text())
                    .as("%s reads %s at %s: a list that begins with its separator", role, address, clock.instant())
                    .doesNotContain(": ;", ": ,");
        }
        return answer;
    }

    private void at(Instant moment) {
        clock.set(moment);
    }

    private static String dated(String address, LocalDateTime moment) {
        return address.replace("DATE", moment.toLocalDate().toString())
                .replace(
                        "MONTH",
                        moment.toLocalDate()
                                .withDayOfMonth(1)
                                .minusMonths(1)
                                .toString()
                                .substring(0, 7));
    }

    /** Once; the same file again is a repeat and changes nothing. */
    private void fillFarDays() throws Exception {
        if (filled) {
            return;
        }
        StringBuilder file = new StringBuilder(
                "booking_id,patient_ref,family_name,given_name,date_of_birth,contact,date,start,slot_minutes,practitioner,"
                        + "room,method_planned,ears,status\n");
        for (int i = 0; i < FAR_DAYS.size(); i++) {
            file.append(
                    "FAR%d,F%04d,Farday,Number,1950-02-28,07700 900%d,%s,30,Ombrel Thackwing,Fern room,microsuction,both,booked%n"
                            .formatted(i, i, 100 + i, FAR_DAYS.get(i)));
        }
        MockHttpServletResponse answer = mvc.perform(post("/api/v1/bookings")
                        .contentType("text/csv")
                        .content(file.toString())
                        .with(SignedIn.program(clinic)))
                .andReturn()
                .getResponse();
        assertThat(answer.getStatus()).as(answer.getContentAsString()).isEqualTo(200);
        assertThat(answer.getContentAsString()).contains("\"accepted\":" + FAR_DAYS.size());
        filled = true;
    }
}
