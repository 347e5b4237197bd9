package org.earslot.exchange.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.multipart;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrlPattern;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.UUID;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.exchange.VisitLines;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportRuns;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.AbstractMockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.MockMultipartHttpServletRequestBuilder;

@PageTest
class ImportPagesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Visits visits;

    @Autowired
    private ImportRuns runs;

    private TestClinics.TestClinic clinic;

    @BeforeEach
    void openClinic() {
        clinic = clinics.open();
    }

    @Test
    void are_for_the_lead_only() throws Exception {
        List<String> pages = List.of(
                "/import",
                "/import/visit-log.csv",
                "/import/runs/" + UUID.randomUUID(),
                "/import/runs/" + UUID.randomUUID() + "/rejected",
                "/import/uploads/" + UUID.randomUUID() + "/headings");
        for (String page : pages) {
            mvc.perform(get(page)).andExpect(status().is3xxRedirection()).andExpect(redirectedUrlPattern("/sign-in*"));
            mvc.perform(get(page).with(SignedIn.receptionist(clinic.id()))).andExpect(status().isForbidden());
            mvc.perform(get(page).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                    .andExpect(status().isForbidden());
        }
        mvc.perform(file("V1").with(SignedIn.lead(clinic.id()))).andExpect(status().isForbidden());
    }

    @Test
    void say_what_is_not_there() throws Exception {
        for (String page : List.of("/import/runs/", "/import/uploads/")) {
            String end = page.contains("uploads") ? "/headings" : "";
            mvc.perform(asLead(get(page + UUID.randomUUID() + end))).andExpect(status().isNotFound());
        }
    }

    @Test
    void refuse_a_missing_file_and_keep_what_was_chosen() throws Exception {
        mvc.perform(asLead(multipart("/import").param("kind", "visit_log").param("update", "true")))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("Choose a file that is not empty.")))
                .andExpect(content().string(containsString("name=\"update\" value=\"true\" checked=\"checked\"")));
        mvc.perform(asLead(file("V1").param("kind", "recipes")))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("Choose what the file contains.")));
    }

    @Test
    void refuse_a_workbook() throws Exception {
        send("PK\u0003\u0004rest".getBytes(StandardCharsets.ISO_8859_1))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("save the sheet as CSV")));
    }

    @Test
    void try_a_log_first_and_let_it_go_in_when_told() throws Exception {
        ImportRun dry = over(send(bytes(
                VisitLines.log(VisitLines.line("V1"), VisitLines.line("V2", "finished", "08:59", "room_ready", "")))));
        mvc.perform(asLead(get("/import/runs/" + dry.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("nothing has changed yet")))
                .andExpect(content().string(containsString("Import 1 line")))
                .andExpect(content().string(containsString("not after called in (09:02)")))
                .andExpect(content().string(not(containsString("every 1s"))));
        assertThat(visits.countByClinicId(clinic.id())).isZero();

        ImportRun real = over(mvc.perform(asLead(post("/import/runs/" + dry.id() + "/go"))));
        assertThat(real.terms().dryRun()).isFalse();
        assertThat(visits.countByClinicId(clinic.id())).isEqualTo(1);
        mvc.perform(asLead(get("/import")))
                .andExpect(content().string(containsString("/import/runs/" + real.id())))
                .andExpect(content().string(containsString("log.csv")));

        mvc.perform(asLead(post("/import/runs/" + dry.id() + "/go"))).andExpect(redirectedUrl("/import"));
        assertThat(visits.countByClinicId(clinic.id())).isEqualTo(1);
    }

    @Test
    void show_rejected_lines_to_be_mended_and_sent_again() throws Exception {
        ImportRun run = over(send(bytes(VisitLines.log(
                VisitLines.line("V1", "note", "=sum"), VisitLines.line("V2", "ears", "all", "note", "=2+5")))));
        mvc.perform(asLead(get("/import/runs/" + run.id() + "/rejected")))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("right, left, both")));
        String rejected = mvc.perform(asLead(get("/import/runs/" + run.id() + "/rejected.csv")))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString(StandardCharsets.UTF_8);
        assertThat(rejected.lines()).hasSize(2);
        assertThat(rejected)
                .startsWith("\uFEFFrejected_line,rejected_because,remedy,visit_id,")
                .contains("'=2+5");

        ImportRun mended = over(send(bytes(rejected.replace(",all,", ",both,"))));
        assertThat(mended.accepted()).isEqualTo(1);
        assertThat(mended.unknownColumns()).isEmpty();
        over(mvc.perform(asLead(post("/import/runs/" + mended.id() + "/go"))));
        assertThat(visits.findByClinicIdAndVisitRef(clinic.id(), "V2")
                        .orElseThrow()
                        .note())
                .contains("=2+5");
    }

    @Test
    void map_a_spreadsheet_of_the_clinics_own() throws Exception {
        String sheet = "Date;Patient;Seen by;Appt time;Time in;Time out;Type;Notes\n"
                + "02/03/2026;K1;P1;9.00;9:05;9:31;MS;caf\u00e9 owner, both ears, stopped for comfort\n"
                + "2/3/2026;K2;P1;09:30;09:35:00;09:50;Irrig;rt ear\n"
                + "02/03/2026;K3;P2;10:00;;;MS;DNA lt ear\n"
                + "31/02/2026;K4;P2;10:20;10:20;10:40;MS;both ears\n"
                + "03/03/2026;K5;P2;2:20pm;2:25 pm;14:40;magic;both ears\n";
        String headings = send(sheet.getBytes(Charset.forName("windows-1252")))
                .andExpect(status().is3xxRedirection())
                .andExpect(redirectedUrlPattern("/import/uploads/*/headings?*"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        String uploads = headings.substring(0, headings.indexOf("/headings"));
        mvc.perform(asLead(get(headings)))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("windows-1252")))
                .andExpect(content().string(containsString("value=\"Time in\" selected=\"selected\"")));

        mvc.perform(asLead(post(uploads + "/headings").param("dates", "day_first")))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("patient_ref")));

        mvc.perform(asLead(post(uploads + "/headings")
                        .param("dates", "day_first")
                        .param("heading.date", "Date")
                        .param("heading.patient_ref", "Patient")
                        .param("heading.practitioner", "Seen by")
                        .param("heading.booked_start", "Appt time")
                        .param("heading.called_in", "Time in")
                        .param("heading.finished", "Time out")
                        .param("heading.method_planned", "Type")
                        .param("heading.note", "Notes")
                        .param("fixed.attendance", "attended")
                        .param("fixed.ears", "right")))
                .andExpect(redirectedUrlPattern("/import/uploads/*/words?*"));
        mvc.perform(asLead(get(uploads + "/words")))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("<code>ms</code>")))
                .andExpect(content().string(containsString("<code>both ears</code>")));
        assertThat(visits.countByClinicId(clinic.id())).isZero();

        ImportRun dry = over(mvc.perform(asLead(post(uploads + "/words")
                .param("word.0.target", "method_planned")
                .param("word.0.own", "ms")
                .param("word.0.meaning", "microsuction")
                .param("word.0.confirmed", "true")
                .param("word.1.target", "method_planned")
                .param("word.1.own", "irrig")
                .param("word.1.meaning", "irrigation")
                .param("word.1.confirmed", "true")
                .param("note.0.own", "both ears")
                .param("note.0.meaning", "ears=both")
                .param("note.0.confirmed", "true")
                .param("note.1.own", "lt ear")
                .param("note.1.meaning", "ears=left")
                .param("note.1.confirmed", "true")
                .param("note.2.own", "DNA")
                .param("note.2.meaning", "attendance=did_not_attend")
                .param("note.2.confirmed", "true")
                .param("note.3.own", "stopped for comfort")
                .param("note.3.meaning", "stopped_early=comfort"))));
        assertThat(List.of(dry.lines(), dry.accepted(), dry.rejected())).containsExactly(5L, 3L, 2L);

        over(mvc.perform(asLead(post("/import/runs/" + dry.id() + "/go"))));
        Visit first = visit("2026-03-02/K1/09:00");
        assertThat(first.ears()).isEqualTo(Ears.BOTH);
        assertThat(first.methodPlanned()).isEqualTo(Method.MICROSUCTION);
        assertThat(first.timeInRoom()).contains(Duration.ofMinutes(26));
        assertThat(first.stoppedEarly()).as("a guess that was not confirmed").isEmpty();
        assertThat(first.note()).contains("caf\u00e9 owner, both ears, stopped for comfort");
        assertThat(visit("2026-03-02/K2/09:30").ears()).isEqualTo(Ears.RIGHT);
        assertThat(visit("2026-03-02/K3/10:00").attendance()).contains(Attendance.DID_NOT_ATTEND);
        assertThat(visit("2026-03-02/K3/10:00").ears()).isEqualTo(Ears.LEFT);

        String again = send(sheet.getBytes(Charset.forName("windows-1252")))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(asLead(get(again.replace("headings", "words"))))
                .andExpect(content().string(containsString("checked=\"checked\"")));
    }

    @Test
    void map_one_column_to_whichever_ears_were_treated() throws Exception {
        String sheet = "visit_id,patient,Date,By,Ear,Method,Used,Result\n"
                + "A1,K1,2026-03-02,P1,Left,Manual removal,microsuction then manual removal,Clear\n";
        String url = send(bytes(sheet)).andReturn().getResponse().getRedirectedUrl();
        String uploads = url.substring(0, url.indexOf("/headings"));
        mvc.perform(asLead(post(uploads + "/headings")
                .param("dates", "year_first")
                .param("heading.visit_id", "visit_id")
                .param("heading.patient_ref", "patient")
                .param("heading.date", "Date")
                .param("heading.practitioner", "By")
                .param("heading.ears", "Ear")
                .param("heading.method_planned", "Method")
                .param("heading.methods", "Used")
                .param("heading.outcome", "Result")
                .param("fixed.attendance", "attended")));
        ImportRun dry = over(mvc.perform(asLead(post(uploads + "/words"))));
        over(mvc.perform(asLead(post("/import/runs/" + dry.id() + "/go"))));
        Visit visit = visit("A1");
        assertThat(visit.methods(Ear.LEFT)).containsExactly(Method.MICROSUCTION, Method.MANUAL_REMOVAL);
        assertThat(visit.outcome(Ear.LEFT)).contains(Outcome.CLEAR);
        assertThat(visit.methods(Ear.RIGHT)).isEmpty();
    }

    @Test
    void show_a_clinic_its_own_runs_only() throws Exception {
        ImportRun run = over(send(bytes(VisitLines.log(VisitLines.line("V1", "ears", "all")))));
        TestClinics.TestClinic other = clinics.open();
        for (String end : List.of("", "/progress", "/rejected", "/rejected.csv")) {
            mvc.perform(get("/import/runs/" + run.id() + end).with(SignedIn.lead(other.id())))
                    .andExpect(status().isNotFound());
        }
        mvc.perform(post("/import/runs/" + run.id() + "/go").with(csrf()).with(SignedIn.lead(other.id())))
                .andExpect(status().isNotFound());
        mvc.perform(get("/import").with(SignedIn.lead(other.id())))
                .andExpect(content().string(containsString("Nothing has been imported yet")));
    }

    @Test
    void download_the_log() throws Exception {
        ImportRun dry = over(send(bytes(VisitLines.log(VisitLines.line("V1")))));
        over(mvc.perform(asLead(post("/import/runs/" + dry.id() + "/go"))));
        mvc.perform(asLead(get("/import/visit-log.csv?from=2026-03-01&to=2026-03-31")))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("V1,K000001,2026-03-02")));
        mvc.perform(asLead(get("/import/visit-log.csv?from=soon"))).andExpect(status().isBadRequest());
    }

    private Visit visit(String visitRef) {
        return visits.findByClinicIdAndVisitRef(clinic.id(), visitRef).orElseThrow();
    }

    private <B extends AbstractMockHttpServletRequestBuilder<B>> B asLead(B request) {
        return request.with(csrf()).with(SignedIn.lead(clinic.id()));
    }

    private static MockMultipartHttpServletRequestBuilder file(String visitId) {
        return multipart("/import")
                .file(new MockMultipartFile(
                        "file", "log.csv", "text/csv", bytes(VisitLines.log(VisitLines.line(visitId)))));
    }

    private ResultActions send(byte[] file) throws Exception {
        return mvc.perform(asLead(multipart("/import")
                .file(new MockMultipartFile("file", "log.csv", "text/csv", file))
                .param("kind", "visit_log")));
    }

    /** The run that an answer sends the browser to, once it is over. */
    private ImportRun over(ResultActions answer) throws Exception {
        String url = answer.andExpect(redirectedUrlPattern("/import/runs/*"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        UUID id = UUID.fromString(url.substring(url.lastIndexOf('/') + 1));
        return await().atMost(Duration.ofMinutes(2))
                .until(() -> runs.find(clinic.id(), id).orElseThrow(), run -> !run.underWay());
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
