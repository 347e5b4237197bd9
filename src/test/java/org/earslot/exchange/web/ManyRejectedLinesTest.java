package org.earslot.exchange.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import org.earslot.exchange.VisitLines;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A file of nothing but wrong lines costs little time, little disk and a short answer. */
class ManyRejectedLinesTest {

    private static final Logger LOG = LoggerFactory.getLogger(ManyRejectedLinesTest.class);
    private static final String PATH = "/api/v1/visit-log?dryRun=true";
    private static final int MEGABYTE = 1_000_000;

    @PageTest
    @Nested
    class H2Test extends OnEachDatabase {}

    @PageTestOnPostgres
    @Nested
    class PostgresTest extends OnEachDatabase {}

    abstract static class OnEachDatabase {

        @Autowired
        private MockMvc mvc;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private JdbcTemplate jdbc;

        private TestClinics.TestClinic clinic;

        @BeforeEach
        void openClinic() {
            clinic = clinics.open();
        }

        @Test
        void reading_stops_where_nearly_nothing_can_go_in() throws Exception {
            MockHttpServletResponse answer = send(VisitLines.log() + "\"a\n".repeat(160_000));
            assertThat(answer.getStatus()).isEqualTo(400);
            assertThat(answer.getContentAsByteArray().length).isLessThan(MEGABYTE);
            assertThat(answer.getContentAsString()).contains("more than 10,000 lines", "nothing of the file went in");
            assertThat(jdbc.queryForObject(
                            "select count(*) from import_rejection r join import_run u on u.id = r.import_run_id"
                                    + " where u.clinic_id = ?",
                            Integer.class,
                            clinic.id().value()))
                    .isEqualTo(1000);
            assertThat(jdbc.queryForObject(
                            "select rejected from import_run where clinic_id = ?",
                            Long.class,
                            clinic.id().value()))
                    .isEqualTo(10_001);
        }

        @Test
        void rejected_lines_are_all_counted_and_the_first_thousand_listed() throws Exception {
            String log = VisitLines.log(VisitLines.line("V1")) + "\"a\n".repeat(9_999);
            JsonNode answer = JsonMapper.shared().readTree(send(log).getContentAsString());
            assertThat(answer.path("accepted").longValue()).isEqualTo(1);
            assertThat(answer.path("rejectedCount").longValue()).isEqualTo(9_999);
            assertThat(answer.path("rejected").size()).isEqualTo(1000);
            assertThat(page()).contains("Only the first 1,000 of 9,999 rejected lines are listed");
        }

        @Test
        void a_very_long_line_is_cut() throws Exception {
            String cell = "x".repeat(60_000);
            send(VisitLines.log() + (cell + "\n").repeat(1000));
            assertThat(jdbc.queryForObject(
                            "select max(length(raw_line)) from import_rejection r join import_run u"
                                    + " on u.id = r.import_run_id where u.clinic_id = ?",
                            Integer.class,
                            clinic.id().value()))
                    .isEqualTo(2001);
        }

        private MockHttpServletResponse send(String log) throws Exception {
            long begun = System.nanoTime();
            MockHttpServletResponse answer = mvc.perform(post(PATH)
                            .contentType("text/csv")
                            .content(log.getBytes(StandardCharsets.UTF_8))
                            .with(SignedIn.program(clinic.id())))
                    .andReturn()
                    .getResponse();
            LOG.info(
                    "{} bytes sent, {} bytes answered after {}",
                    log.length(),
                    answer.getContentAsByteArray().length,
                    Duration.ofNanos(System.nanoTime() - begun));
            return answer;
        }

        private String page() throws Exception {
            String id = jdbc.queryForObject(
                    "select cast(id as varchar) from import_run where clinic_id = ?",
                    String.class,
                    clinic.id().value());
            return mvc.perform(get("/import/runs/" + id + "/rejected").with(SignedIn.lead(clinic.id())))
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
        }
    }
}
