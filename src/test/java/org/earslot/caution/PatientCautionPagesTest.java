package org.earslot.caution;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.PatientCaution.Basis;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.Intake;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** A caution recorded last year is in view wherever the patient is taken up again. */
@PageTest
class PatientCautionPagesTest {

    private static final LocalDate LAST_YEAR = LocalDate.of(2025, 3, 3);
    private static final LocalDate DAY = LocalDate.of(2026, 3, 5);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private PatientCautions cautions;

    @Autowired
    private MethodSuitability suitability;

    @Autowired
    private Intake intake;

    private TestClinic clinic;
    private Patient patient;
    private PatientCaution mastoid;
    private RequestPostProcessor receptionist;
    private RequestPostProcessor practitioner;

    @BeforeEach
    void a_patient_with_a_mastoid_cavity() {
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        patient = diary.patient(clinic, "Wrenbottom", "Ann");
        mastoid = cautions.record(
                clinic.id(),
                patient.id(),
                new AskedCaution(Caution.MASTOID_CAVITY, Ear.RIGHT, null),
                Basis.ASKED,
                LAST_YEAR,
                "receptionist");
    }

    @ParameterizedTest
    @EnumSource(Caution.class)
    void asks_each_caution_in_lay_words_beside_the_clinical_term(Caution caution) throws Exception {
        String form = page("/referrals/new?form=" + UUID.randomUUID());
        int tick = form.indexOf("name=\"cautions\" value=\"" + caution.code() + "\"");
        assertThat(tick).isPositive();
        String label = form.substring(tick, form.indexOf("</label>", tick));
        assertThat(label).contains("?</span>").contains("class=\"term\"").doesNotContain("??");
        assertThat(label.indexOf("?</span>")).isLessThan(label.indexOf("class=\"term\""));
    }

    @Test
    void ticks_it_in_the_form_with_its_date_to_be_confirmed() throws Exception {
        for (String form : List.of(
                page("/referrals/new?form=" + UUID.randomUUID() + "&patient=" + patient.id()),
                numbered(patient.localNumber()))) {
            assertThat(form)
                    .contains("name=\"cautions\" value=\"mastoid_cavity\" checked=\"checked\"")
                    .contains("To be confirmed:")
                    .contains("recorded 3 Mar 2025");
        }
        assertThat(page("/referrals/new?form=" + UUID.randomUUID())).doesNotContain("To be confirmed:");
        assertThat(page("/patients/" + patient.id())).contains("mastoid cavity").contains("recorded 3 Mar 2025");
    }

    @Test
    void puts_a_question_to_the_practitioner_and_forbids_the_method_until_it_is_corrected() throws Exception {
        Referral none = diary.referral(clinic, patient, said(true));
        assertThat(suitability.judge(none, Method.IRRIGATION, DAY).contraindicated())
                .isTrue();
        assertThat(suitability.judge(none, Method.IRRIGATION, DAY).verdict(Ear.LEFT))
                .isEqualTo(Verdict.SUITABLE);
        assertThat(page("/referrals/" + none.id()))
                .contains("id=\"caution-questions\"")
                .doesNotContain("id=\"cautions-to-confirm\"")
                .contains("recorded 3 Mar 2025");

        correct(receptionist, "looks well", 403);
        correct(SignedIn.lead(clinic.id()), "looks well", 409);
        correct(practitioner, " ", 400);
        correct(SignedIn.practitioner(clinics.open().id(), clinic.p1()), "not of this clinic", 404);
        assertThat(suitability.judge(none, Method.IRRIGATION, DAY).contraindicated())
                .isTrue();
        correct(practitioner, "drum <b>seen</b>, no cavity", 302);
        correct(practitioner, "again", 404);
        assertThat(suitability.judge(none, Method.IRRIGATION, DAY).verdict()).isEqualTo(Verdict.SUITABLE);
        assertThat(page("/referrals/" + none.id())).doesNotContain("id=\"caution-questions\"");
        assertThat(page("/patients/" + patient.id()))
                .contains("drum &lt;b&gt;seen&lt;/b&gt;, no cavity")
                .contains("No caution is on record");
    }

    @Test
    void says_that_nothing_is_judged_while_cautions_have_not_been_asked() throws Exception {
        Referral unasked = diary.referral(clinic, patient, said(false));
        assertThat(page("/referrals/" + unasked.id()))
                .contains("not judged: cautions not asked")
                .contains("id=\"cautions-to-confirm\"")
                .doesNotContain("no known caution")
                .doesNotContain("nothing known");
        assertThat(page("/slots/methods?referral=" + unasked.id()))
                .contains("not judged: cautions not asked")
                .doesNotContain("no known caution");
        mvc.perform(get("/slots?referral=" + unasked.id()).with(receptionist))
                .andExpect(content().string(containsString("Not judged: cautions not asked")));
        assertThat(page("/referrals/" + unasked.id() + "/edit"))
                .contains("name=\"cautions\" value=\"mastoid_cavity\" checked=\"checked\"");
        mvc.perform(get("/slots?referral=" + diary.referral(clinic, said(true)).id())
                        .with(receptionist))
                .andExpect(content().string(not(containsString("Not judged"))));
    }

    @Test
    void keeps_the_date_of_an_answer_that_is_copied_into_a_referral_until_somebody_asks() throws Exception {
        AskedCaution cavity = new AskedCaution(Caution.MASTOID_CAVITY, Ear.RIGHT, null);
        ReferralDetails copied = said(true).with(new CautionAnswers(false, List.of(cavity)));
        Referral followUp =
                intake.takeIn(clinic.id(), patient.localNumber(), copied, new Intake.Taker("practitioner", null));
        CautionSummary known =
                cautions.summary(clinic.id(), patient.id(), followUp.details().cautions(), DAY);
        assertThat(known.asked()).isFalse();
        assertThat(known.yes()).isEmpty();
        assertThat(known.toConfirm())
                .singleElement()
                .satisfies(one -> assertThat(one.confirmedOn()).isEqualTo(LAST_YEAR));
        assertThat(suitability.judge(followUp, Method.IRRIGATION, DAY).reasons())
                .as("counts once")
                .hasSize(suitability
                        .judge(diary.referral(clinic, patient, said(true)), Method.IRRIGATION, DAY)
                        .reasons()
                        .size());
        assertThat(page("/referrals/" + followUp.id()))
                .contains("id=\"cautions-to-confirm\"")
                .contains("recorded 3 Mar 2025");
        intake.addCautions(followUp, List.of(cavity), new Intake.Taker("practitioner", null));
        assertThat(cautions.inForce(clinic.id(), patient.id(), DAY))
                .singleElement()
                .satisfies(one -> assertThat(one.confirmedOn()).isAfter(LAST_YEAR));
    }

    private void correct(RequestPostProcessor who, String reason, int expected) throws Exception {
        UUID id = mastoid.id();
        mvc.perform(post("/patients/" + patient.id() + "/cautions/" + id + "/correct")
                        .param("reason", reason)
                        .with(who)
                        .with(csrf()))
                .andExpect(status().is(expected));
    }

    private String numbered(String number) throws Exception {
        return mvc.perform(post("/referrals/new")
                        .param("number", number)
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString(java.nio.charset.StandardCharsets.UTF_8);
    }

    private String page(String address) throws Exception {
        return mvc.perform(get(address).with(receptionist))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString(java.nio.charset.StandardCharsets.UTF_8);
    }

    private static ReferralDetails said(boolean asked) {
        return new ReferralDetails(
                        new ReferralSource(null, LocalDate.of(2026, 2, 20), Origin.REFERRAL),
                        new VisitRequest(
                                null,
                                Priority.ROUTINE,
                                Ears.BOTH,
                                Method.MICROSUCTION,
                                Answer.YES,
                                5,
                                null,
                                null,
                                null,
                                null,
                                Answer.NOT_KNOWN),
                        ReportedEars.UNKNOWN,
                        new CautionAnswers(asked, List.of()),
                        RedFlagAnswers.NOT_ASKED)
                .with(new RedFlagAnswers(RedFlag.noneOfThese(), null));
    }
}
