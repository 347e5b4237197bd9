package org.earslot.patient;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.MvcResult;
import org.springframework.test.web.servlet.ResultActions;

/** Finding a patient from the head of every page. */
class PatientSearchTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);

    abstract static class Search {

        @Autowired
        private MockMvc mvc;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private Patients patients;

        @Autowired
        private PatientSearch search;

        @Autowired
        private PatientKeysMade keys;

        @Autowired
        private JdbcTemplate jdbc;

        private ClinicId clinic;

        @BeforeEach
        void a_clinic_with_patients() {
            clinic = clinics.open().id();
            patient("K1", "Brackenfold", "Tessaly", LocalDate.of(1951, 3, 14), "01632 960123");
            patient("K2", "Wrenbottom", "Tess", LocalDate.of(1960, 1, 2), "07700 900456");
            patient("K3", "Foldwright", "Brack", null, null);
            patient("K4", null, null, null, null);
        }

        private UUID patient(
                String number,
                @Nullable String family,
                @Nullable String given,
                @Nullable LocalDate born,
                @Nullable String phone) {
            return patients.save(new Patient(
                            UUID.randomUUID(),
                            clinic,
                            number,
                            LikenessTest.person(family, given, born, phone),
                            Instant.parse("2026-01-01T09:00:00Z")))
                    .id();
        }

        private List<String> found(String typed) {
            return search.find(clinic, typed, TODAY).patients().stream()
                    .map(Patient::localNumber)
                    .toList();
        }

        @ParameterizedTest
        @CsvSource(
                delimiter = '|',
                value = {
                    "brack | K3 K1",
                    "fold | K3 K1",
                    "tess | K2 K1",
                    "Brackenfold, Tessaly | K1",
                    "tess brack | K1",
                    "14 March 1951 | K1",
                    "1951-03-14 tess | K1",
                    "01632 960123 | K1",
                    "+44 7700 900456 | K2",
                    "k4 | K4",
                    "Brackenfeld | K1",
                    "wrenbotom tess | K2",
                    "wrenbotom tessaly | ",
                    "nobody | "
                })
        void finds_the_best_first(String typed, @Nullable String expected) {
            assertThat(found(typed)).containsExactly(expected == null ? new String[0] : expected.split(" "));
        }

        @Test
        void says_that_a_name_is_not_spelt_as_typed() {
            assertThat(search.find(clinic, "Brackenfeld", TODAY).misspelt()).isTrue();
            assertThat(search.find(clinic, "brack", TODAY).misspelt()).isFalse();
        }

        @Test
        void a_second_record_leads_to_the_patient() {
            UUID kept = patient("K5", "Marrowdrum", "Brisell", null, null);
            UUID gone = patient("K6", "Marowdrumm", "Brisell", null, null);
            Patient second = patients.findById(gone).orElseThrow();
            second.mergeInto(kept);
            patients.save(second);
            assertThat(found("marowdrumm")).containsExactly("K5");
            assertThat(found("k6")).containsExactly("K5");
            assertThat(found("brisell")).containsExactly("K5");
        }

        @Test
        void another_clinic_finds_nobody_of_this_one() {
            assertThat(search.find(clinics.open().id(), "brack", TODAY).patients())
                    .isEmpty();
        }

        @Test
        void more_than_it_shows_is_said() {
            for (int i = 0; i < 25; i++) {
                patient("Z" + i, "Quillmarsh", "Ann", null, null);
            }
            PatientSearch.Found found = search.find(clinic, "quillmarsh", TODAY);
            assertThat(found.patients()).hasSize(PatientSearch.MOST);
            assertThat(found.more()).isTrue();
        }

        @Test
        void a_corrected_name_is_found_and_the_old_one_is_not() {
            Patient patient =
                    patients.findByClinicIdAndLocalNumber(clinic, "K2").orElseThrow();
            patient.amend(LikenessTest.person("Sedgequill", "Tess", null, null));
            patients.save(patient);
            assertThat(found("sedge")).containsExactly("K2");
            assertThat(found("wrenbottom")).isEmpty();
        }

        @Test
        void records_without_a_line_get_one_at_the_start() {
            jdbc.update("update patient set search_text = null, keys_version = 1 where clinic_id = ?", clinic.value());
            assertThat(found("brack")).isEmpty();
            keys.make();
            assertThat(found("brack")).containsExactly("K3", "K1");
        }

        @ParameterizedTest
        @ValueSource(
                strings = {
                    "%",
                    "_",
                    "\\",
                    "'",
                    "' or 1=1 --",
                    "\u0000",
                    "🦻",
                    "<script>alert(1)</script>",
                    "9999999999999999999999"
                })
        void hostile_texts_find_nobody(String typed) {
            assertThat(found(typed)).isEmpty();
        }

        @Test
        void one_who_is_found_is_opened_at_once() throws Exception {
            UUID id = patients.findByClinicIdAndLocalNumber(clinic, "K1")
                    .orElseThrow()
                    .id();
            sought("tess brack").andExpect(redirectedUrl("/patients/" + id));
            mvc.perform(get("/kit").with(SignedIn.receptionist(clinic)))
                    .andExpect(content().string(containsString("role=\"search\"")));
        }

        @Test
        void the_page_shows_those_found_and_leads_on() throws Exception {
            UUID id = patients.findByClinicIdAndLocalNumber(clinic, "K1")
                    .orElseThrow()
                    .id();
            page(sought("tess"))
                    .andExpect(status().isOk())
                    .andExpect(content().string(containsString("Brackenfold, Tessaly")))
                    .andExpect(content().string(containsString("14 Mar 1951")))
                    .andExpect(content().string(containsString("01632 960123")))
                    .andExpect(content().string(containsString("none booked")))
                    .andExpect(content().string(containsString("/referrals/new?patient=" + id)));
            page(sought("<b>nobody</b>"))
                    .andExpect(content().string(containsString("Nobody found")))
                    .andExpect(content().string(not(containsString("<b>nobody"))));
        }

        @Test
        void the_address_of_a_search_names_nobody_and_shows_it_to_nobody_else() throws Exception {
            String address = sought("tess").andReturn().getResponse().getRedirectedUrl();
            assertThat(address).matches("/patients\\?search=[0-9a-f-]{36}");
            mvc.perform(get(address).with(SignedIn.receptionist(clinic)))
                    .andExpect(content().string(not(containsString("Brackenfold"))));
        }

        private ResultActions sought(String typed) throws Exception {
            return mvc.perform(post("/patients")
                            .param("sought", typed)
                            .with(SignedIn.receptionist(clinic))
                            .with(csrf()))
                    .andExpect(status().is3xxRedirection());
        }

        /** What the browser is sent on to, in the same session. */
        private ResultActions page(ResultActions sentOn) throws Exception {
            MvcResult result = sentOn.andReturn();
            return mvc.perform(get(Objects.requireNonNull(result.getResponse().getRedirectedUrl()))
                    .cookie(result.getResponse().getCookies())
                    .with(SignedIn.receptionist(clinic)));
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Search {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Search {}
}
