package org.earslot.exchange.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.hasSize;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import org.earslot.exchange.VisitLines;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.ResultActions;

@PageTest
class VisitLogApiTest {

    private static final String PATH = "/api/v1/visit-log";

    @Autowired
    private Scenes scenes;

    @Autowired
    private Visits visits;

    private Scene scene;

    @BeforeEach
    void a_clinic() {
        scene = scenes.open();
    }

    @Test
    void takes_the_shared_log_and_names_each_planted_fault() throws Exception {
        String log;
        try (InputStream in = VisitLogApiTest.class.getResourceAsStream("/visit-log.csv")) {
            log = new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
        send(log, "")
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.lines").value(2605))
                .andExpect(jsonPath("$.accepted").value(2544))
                .andExpect(jsonPath("$.repeats").value(5))
                .andExpect(jsonPath("$.repeatedLines", hasSize(5)))
                .andExpect(jsonPath("$.rejected", hasSize(56)))
                .andExpect(jsonPath("$.rejected[?(@.visitId == 'V000042')].column", hasItem("method_planned")))
                .andExpect(jsonPath("$.rejected[?(@.visitId == 'V000042')].value", hasItem("hoover?")))
                .andExpect(jsonPath(
                        "$.rejected[?(@.visitId == 'V000042')].remedy",
                        hasItem(containsString("irrigation, microsuction, manual_removal"))));
        assertThat(visits.countByClinicId(scene.clinicId())).isEqualTo(2544);
    }

    @Test
    void tells_of_a_line_once_with_all_its_faults() throws Exception {
        send(VisitLines.log(VisitLines.line("V1", "ears", "all", "slot_minutes", "0")), "")
                .andExpect(jsonPath("$.rejected", hasSize(1)))
                .andExpect(jsonPath("$.rejected[0].line").value(2))
                .andExpect(jsonPath("$.rejected[0].column").value("ears"))
                .andExpect(jsonPath("$.rejected[0].also[0].column").value("slot_minutes"));
    }

    @Test
    void changes_nothing_in_a_dry_run() throws Exception {
        send(VisitLines.log(VisitLines.line("V1")), "?dryRun=true")
                .andExpect(jsonPath("$.accepted").value(1));
        assertThat(visits.countByClinicId(scene.clinicId())).isZero();
    }

    @Test
    void creates_names_and_replaces_lines_only_when_asked() throws Exception {
        String log = VisitLines.log(VisitLines.line("V1", "practitioner", "P7"));
        send(log, "").andExpect(jsonPath("$.rejected[0].column").value("practitioner"));
        send(log, "?createNames=true").andExpect(jsonPath("$.createdNames[0]").value("P7"));
        String other = VisitLines.log(VisitLines.line("V1", "practitioner", "P1"));
        send(other, "").andExpect(jsonPath("$.rejected[0].column").value("visit_id"));
        send(other, "?update=true").andExpect(jsonPath("$.accepted").value(1));
    }

    @Test
    void says_once_which_columns_it_keeps_out() throws Exception {
        String log = VisitLines.log(VisitLines.line("V1")).replaceFirst("note\r\n", "note,mood\r\n");
        send(log.replaceFirst("\r\n$", ",good\r\n"), "")
                .andExpect(jsonPath("$.unknownColumns", hasSize(1)))
                .andExpect(jsonPath("$.unknownColumns[0]").value("mood"))
                .andExpect(jsonPath("$.accepted").value(1));
    }

    @Test
    void refuses_what_it_cannot_read_and_says_why() throws Exception {
        send("visit_id,date\nV1,2026-03-02\n", "")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[*].field", hasItem("patient_ref")));
        send("", "").andExpect(status().isBadRequest());
        send(VisitLines.log(), "?dryRun=perhaps")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("dryRun"));
        scene.program()
                .sends(post(PATH).contentType("application/json").content("{}"))
                .andExpect(status().isUnsupportedMediaType());
    }

    @Test
    void gives_back_what_went_in() throws Exception {
        String log = VisitLines.log(VisitLines.line("V1", "note", "=2+5"), VisitLines.line("V2", "date", "2026-03-03"));
        send(log, "");
        scene.program()
                .reads(PATH)
                .andExpect(status().isOk())
                .andExpect(content().contentType("text/csv;charset=UTF-8"))
                .andExpect(content().string(log));
        scene.program()
                .reads(PATH + "?from=2026-03-03&to=2026-03-03")
                .andExpect(content().string(VisitLines.log(VisitLines.line("V2", "date", "2026-03-03"))));
    }

    @Test
    void refuses_dates_that_are_none() throws Exception {
        scene.program()
                .reads(PATH + "?from=31/02/2026")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("from"));
    }

    @Test
    void answers_programs_only() throws Exception {
        scene.mvc().perform(get(PATH)).andExpect(status().isUnauthorized());
        scene.mvc().perform(post(PATH).contentType("text/csv").content("")).andExpect(status().isUnauthorized());
        scene.lead().reads(PATH).andExpect(status().isForbidden());
    }

    @Test
    void keeps_clinics_apart() throws Exception {
        send(VisitLines.log(VisitLines.line("V1")), "");
        scenes.open().program().reads(PATH).andExpect(content().string(VisitLines.log()));
    }

    private ResultActions send(String log, String query) throws Exception {
        return scene.program()
                .sends(post(PATH + query).contentType("text/csv").content(log.getBytes(StandardCharsets.UTF_8)));
    }
}
