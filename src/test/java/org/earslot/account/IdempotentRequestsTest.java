package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import org.earslot.clinic.ClinicId;
import org.earslot.patient.Patients;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;

/** A program that has lost an answer sends its request again under the same key. */
@PageTest
class IdempotentRequestsTest {

    private static final String REFERRAL = "{\"nameUnknown\":true,\"method\":\"irrigation\",\"ears\":[\"left\"]}";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Patients patients;

    @Autowired
    private SettableClock clock;

    private ClinicId clinic;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open().id();
    }

    @Test
    void the_same_request_is_done_once_and_answered_the_same() throws Exception {
        MockHttpServletResponse first = send("key-1", REFERRAL)
                .andExpect(status().isCreated())
                .andReturn()
                .getResponse();
        MockHttpServletResponse again = send("key-1", REFERRAL)
                .andExpect(status().isCreated())
                .andReturn()
                .getResponse();
        assertThat(again.getContentAsString())
                .isEqualTo(first.getContentAsString())
                .isNotEmpty();
        assertThat(again.getHeader("Location")).isEqualTo(first.getHeader("Location"));
        assertThat(again.getContentType()).isEqualTo(first.getContentType());
        assertThat(patients.countByClinicId(clinic)).isEqualTo(1);
    }

    @Test
    void another_body_under_the_same_key_is_refused() throws Exception {
        send("key-1", REFERRAL).andExpect(status().isCreated());
        send("key-1", REFERRAL.replace("left", "right"))
                .andExpect(status().is(422))
                .andExpect(jsonPath("$.code").value("key-used"));
        assertThat(patients.countByClinicId(clinic)).isEqualTo(1);
    }

    @Test
    void a_request_that_was_wrong_may_be_corrected_under_its_key() throws Exception {
        send("key-1", REFERRAL.replace("left", "middle")).andExpect(status().isBadRequest());
        send("key-1", REFERRAL).andExpect(status().isCreated());
    }

    @Test
    void a_key_is_of_its_own_clinic_and_of_one_day() throws Exception {
        send("key-1", REFERRAL).andExpect(status().isCreated());
        ClinicId mine = clinic;
        clinic = clinics.open().id();
        send("key-1", REFERRAL).andExpect(status().isCreated());
        assertThat(patients.countByClinicId(clinic)).isEqualTo(1);
        clinic = mine;
        clock.advance(Duration.ofHours(24).plusSeconds(1));
        send("key-1", REFERRAL).andExpect(status().isCreated());
        assertThat(patients.countByClinicId(clinic)).isEqualTo(2);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "two words", "\u00e4"})
    void a_key_is_printable(String key) throws Exception {
        send(key, REFERRAL).andExpect(status().isBadRequest());
        send("k".repeat(201), REFERRAL)
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("Idempotency-Key"));
    }

    private ResultActions send(String key, String body) throws Exception {
        return mvc.perform(post("/api/v1/referrals")
                .header("Idempotency-Key", key)
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .with(SignedIn.program(clinic)));
    }
}
