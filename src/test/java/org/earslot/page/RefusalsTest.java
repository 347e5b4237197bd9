package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.put;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import java.sql.SQLException;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.hamcrest.Matchers;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.context.annotation.Import;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.http.MediaType;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

@PageTest
@Import(RefusalsTest.Troubles.class)
@ExtendWith(OutputCaptureExtension.class)
class RefusalsTest {

    /** What must reach neither a page, nor a program, nor the log. */
    private static final String PRIVATE = "Invented Patient";

    /** What our own code says, for the log. */
    private static final String OURS = "a visit was finished before it was called in";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    private ClinicId clinic;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open().id();
    }

    @Test
    void answer_a_program_with_a_problem_document() throws Exception {
        program(get("/api/v1/trouble/refused"))
                .andExpect(status().isConflict())
                .andExpect(content().contentType(MediaType.APPLICATION_PROBLEM_JSON))
                .andExpect(jsonPath("$.type").value("about:blank"))
                .andExpect(jsonPath("$.title").value("Conflict"))
                .andExpect(jsonPath("$.status").value(409))
                .andExpect(jsonPath("$.code").value("slot-taken"))
                .andExpect(jsonPath("$.detail").value("That place is taken."))
                .andExpect(jsonPath("$.problems[0].field").value("start"))
                .andExpect(jsonPath("$.problems[0].given").value("10:20"))
                .andExpect(jsonPath("$.problems[0].allowed").value("a free time"))
                .andExpect(jsonPath("$.problems[0].remedy").value("choose another"));
    }

    @Test
    void answer_a_person_with_a_page() throws Exception {
        person(get("/trouble/refused"))
                .andExpect(status().isConflict())
                .andExpect(content().contentTypeCompatibleWith(MediaType.TEXT_HTML))
                .andExpect(content().string(Matchers.containsString("That place is taken.")))
                .andExpect(content().string(Matchers.containsString("a free time")))
                .andExpect(content().string(Matchers.containsString("HTTP status 409")));
    }

    @Test
    void name_every_wrong_field_of_a_body_without_repeating_texts() throws Exception {
        program(json("{\"name\":\"\",\"minutes\":500}"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.code").value("invalid"))
                .andExpect(jsonPath("$.problems.length()").value(2))
                .andExpect(jsonPath("$.problems[?(@.field=='minutes')].given").value("500"))
                .andExpect(jsonPath("$.problems[?(@.field=='minutes')].allowed")
                        .value("must be less than or equal to 180"));
        program(json("{\"name\":\"x\",\"minutes\":\"" + PRIVATE + "\"}"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("minutes"))
                .andExpect(jsonPath("$.problems[0].allowed").value("a whole number"))
                .andExpect(content().string(Matchers.not(Matchers.containsString(PRIVATE))));
        program(json("{\"name\":\"x\",\"nested\":[{\"on\":\"tomorrow\"}]}"))
                .andExpect(jsonPath("$.problems[0].field").value("nested[0].on"))
                .andExpect(jsonPath("$.problems[0].allowed").value("a date such as 2026-03-03"));
    }

    @Test
    void tell_where_a_body_is_no_json() throws Exception {
        program(json("{\"name\": \"x\",\n \"minutes\": }"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.code").value("unreadable"))
                .andExpect(jsonPath("$.detail").value(Matchers.containsString("line 2")));
        program(json("")).andExpect(status().isBadRequest());
    }

    @Test
    void name_a_wrong_value_in_an_address() throws Exception {
        program(get("/api/v1/trouble/days/2026-02-30?count=1"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("date"))
                .andExpect(jsonPath("$.problems[0].allowed").value("a date such as 2026-03-03"));
        program(get("/api/v1/trouble/days/2026-02-03?count=many"))
                .andExpect(jsonPath("$.problems[0].field").value("count"));
        program(get("/api/v1/trouble/days/2026-02-03"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("count"))
                .andExpect(jsonPath("$.problems[0].allowed").value("must be there"));
        program(get("/api/v1/trouble/days/2026-02-03?count=11"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("count"))
                .andExpect(jsonPath("$.problems[0].given").value("11"));
    }

    @Test
    void tell_what_is_not_there_or_not_offered() throws Exception {
        program(get("/api/v1/nothing"))
                .andExpect(status().isNotFound())
                .andExpect(jsonPath("$.code").value("not-found"));
        program(post("/api/v1/trouble/refused"))
                .andExpect(status().isMethodNotAllowed())
                .andExpect(header().string("Allow", "GET"))
                .andExpect(content().contentType(MediaType.APPLICATION_PROBLEM_JSON));
        program(put("/api/v1/trouble/body").contentType(MediaType.TEXT_PLAIN).content("x"))
                .andExpect(status().isUnsupportedMediaType())
                .andExpect(jsonPath("$.status").value(415));
        program(get("/api/v1/trouble/refused").accept("image/png"))
                .andExpect(status().isConflict())
                .andExpect(content().contentType(MediaType.APPLICATION_PROBLEM_JSON));
        person(get("/nothing"))
                .andExpect(status().isNotFound())
                .andExpect(content().string(Matchers.containsString("Not found")));
        person(post("/trouble/refused")).andExpect(status().isMethodNotAllowed());
    }

    @Test
    void tell_that_someone_else_was_faster() throws Exception {
        program(get("/api/v1/trouble/stale")).andExpect(status().isConflict());
        program(get("/api/v1/trouble/stale").header("If-Match", "\"1\""))
                .andExpect(status().isPreconditionFailed())
                .andExpect(jsonPath("$.code").value("changed-meanwhile"));
        person(get("/trouble/stale"))
                .andExpect(status().isConflict())
                .andExpect(content().string(Matchers.containsString("Someone else changed this first")));
    }

    @Test
    void tell_when_to_ask_again() throws Exception {
        program(get("/api/v1/trouble/busy"))
                .andExpect(status().isServiceUnavailable())
                .andExpect(header().string("Retry-After", "3"));
        person(get("/trouble/busy"))
                .andExpect(status().isServiceUnavailable())
                .andExpect(header().string("Retry-After", "3"));
    }

    @Test
    void hide_what_nobody_foresaw_behind_a_reference_to_the_log(CapturedOutput log) throws Exception {
        for (String trouble : List.of("failure", "driver", "integrity")) {
            String answer = program(get("/api/v1/trouble/" + trouble))
                    .andExpect(content().contentType(MediaType.APPLICATION_PROBLEM_JSON))
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
            assertThat(answer).contains("\"reference\":\"").doesNotContain(PRIVATE, "Exception", ".java");
            String reference = answer.replaceAll("(?s).*\"reference\":\"(\\w{8})\".*", "$1");
            assertThat(log.getOut()).contains("Reference " + reference);
        }
        person(get("/trouble/failure"))
                .andExpect(status().isInternalServerError())
                .andExpect(content().string(Matchers.containsString("Reference")))
                .andExpect(content().string(Matchers.not(Matchers.containsString(PRIVATE))))
                .andExpect(content().string(Matchers.not(Matchers.containsString("Exception"))));
        assertThat(log.getAll())
                .contains("IllegalStateException", "RefusalsTest", "SQLState 23505")
                .contains("java.lang.IllegalArgumentException: " + OURS)
                .doesNotContain(PRIVATE);
    }

    @Test
    void call_conflict_only_what_other_records_do_not_allow(CapturedOutput log) throws Exception {
        program(get("/api/v1/trouble/integrity"))
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.code").value("conflict"));
        program(get("/api/v1/trouble/value"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.code").value("invalid"));
        for (String trouble : List.of("closed-while-checking", "unknown-integrity")) {
            program(get("/api/v1/trouble/" + trouble))
                    .andExpect(status().isInternalServerError())
                    .andExpect(jsonPath("$.code").value("unexpected"))
                    .andExpect(jsonPath("$.reference").isNotEmpty());
        }
        assertThat(log.getAll()).contains("SQLState 90098").doesNotContain(PRIVATE);
    }

    @Test
    void leave_roles_to_security() throws Exception {
        mvc.perform(get("/trouble/leads").with(SignedIn.receptionist(clinic))).andExpect(status().isForbidden());
        mvc.perform(get("/trouble/leads").with(SignedIn.lead(clinic))).andExpect(status().isOk());
    }

    @Test
    void lead_from_the_bare_address_to_today() throws Exception {
        person(get("/")).andExpect(redirectedUrl("/day"));
    }

    private static MockHttpServletRequestBuilder json(String body) {
        return put("/api/v1/trouble/body")
                .contentType(MediaType.APPLICATION_JSON)
                .content(body);
    }

    private ResultActions program(MockHttpServletRequestBuilder request) throws Exception {
        return mvc.perform(request.with(SignedIn.program(clinic)));
    }

    private ResultActions person(MockHttpServletRequestBuilder request) throws Exception {
        return mvc.perform(request.with(SignedIn.receptionist(clinic)).with(csrf()));
    }

    /** Paths that fail in every way. */
    @RestController
    static class Troubles {

        record Nested(LocalDate on) {}

        record Body(@NotBlank String name, @Min(5) @Max(180) int minutes, List<Nested> nested) {}

        @GetMapping({"/trouble/refused", "/api/v1/trouble/refused"})
        String refused() {
            throw new Refused(409, "slot-taken", "That place is taken.")
                    .naming(List.of(Problem.said("start", "10:20", "a free time", "choose another")));
        }

        @PutMapping("/api/v1/trouble/body")
        String body(@RequestBody @Valid Body body) {
            return body.name();
        }

        @GetMapping("/api/v1/trouble/days/{date}")
        String day(@PathVariable LocalDate date, @RequestParam @Max(10) int count) {
            return date.toString() + count;
        }

        @GetMapping({"/trouble/stale", "/api/v1/trouble/stale"})
        String stale() {
            throw new OptimisticLockingFailureException(PRIVATE);
        }

        @GetMapping({"/trouble/busy", "/api/v1/trouble/busy"})
        String busy() {
            throw new Busy("Too much at once.", Duration.ofSeconds(3));
        }

        @GetMapping({"/trouble/failure", "/api/v1/trouble/failure"})
        String failure() {
            throw elsewhere(new IllegalStateException(PRIVATE, new IllegalArgumentException(OURS)));
        }

        @GetMapping("/api/v1/trouble/driver")
        String driver() {
            // Takes its message from its cause.
            throw new IllegalStateException(elsewhere(new IllegalArgumentException(PRIVATE)));
        }

        @GetMapping("/api/v1/trouble/integrity")
        String integrity() {
            throw integrity(new SQLException(PRIVATE, "23505"));
        }

        @GetMapping("/api/v1/trouble/value")
        String value() {
            throw integrity(new SQLException(PRIVATE, "22001"));
        }

        /** As H2 reports a check that it could not judge. */
        @GetMapping("/api/v1/trouble/closed-while-checking")
        String closedWhileChecking() {
            throw integrity(new SQLException(PRIVATE, "23514", new SQLException(PRIVATE, "90098")));
        }

        @GetMapping("/api/v1/trouble/unknown-integrity")
        String unknownIntegrity() {
            throw elsewhere(new DataIntegrityViolationException(PRIVATE));
        }

        private static DataIntegrityViolationException integrity(SQLException cause) {
            return elsewhere(new DataIntegrityViolationException(PRIVATE, cause));
        }

        /** As if thrown by a driver or a library. */
        private static <T extends Exception> T elsewhere(T thrown) {
            thrown.setStackTrace(new StackTraceElement[] {new StackTraceElement("org.driver.Driver", "run", null, 1)});
            return thrown;
        }

        @GetMapping("/trouble/leads")
        @PreAuthorize("hasRole('LEAD')")
        String leads() {
            return "for leads";
        }
    }
}
