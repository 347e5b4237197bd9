package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** What whoever books or treats somebody has to know, and is stopped by nothing. */
@PageTest
class BeforeTheVisitTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final String CHILD = "who consents is not known";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Patients patients;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void opens_a_clinic() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
    }

    /** In the United Kingdom young people of 16 and 17 are taken to be able to consent (Family Law Reform Act 1969, s. 8). */
    @ParameterizedTest
    @CsvSource({"2010-03-04, , true", "2010-03-03, , false", "2019-05-01, the mother, false", ", , false"})
    void that_nobody_knows_who_consents_for_a_child(@Nullable LocalDate born, @Nullable String consentBy, boolean warns)
            throws Exception {
        Referral referral = diary.referral(clinic, person(born, consentBy), details());
        assertThat(page("/slots?referral=" + referral.id()).contains(CHILD)).isEqualTo(warns);
        UUID id = diary.appointment(clinic, referral, diary.place(clinic, TODAY.atTime(10, 0), 30));
        for (String page : List.of("/appointments/" + id, "/day/2026-03-03/sheet", "/day/2026-03-03/now")) {
            assertThat(page(page).contains(CHILD)).as(page).isEqualTo(warns);
        }
    }

    /** A red flag that stops no visit (NICE NG98 1.1.6) is for the practitioner to decide on. */
    @Test
    void that_ringing_is_on_one_side_only() throws Exception {
        Referral referral = diary.referral(
                clinic, details().with(new RedFlagAnswers(Map.of(RedFlag.ONE_SIDED_TINNITUS, Answer.YES), null)));
        UUID id = diary.appointment(clinic, referral, diary.place(clinic, TODAY.atTime(10, 0), 30));
        for (String page : List.of("/appointments/" + id, "/day/2026-03-03/sheet", "/day/2026-03-03/now")) {
            assertThat(page(page)).as(page).contains("ringing in one ear or with the pulse");
        }
    }

    @Test
    void that_the_patient_has_an_appointment_already() throws Exception {
        Patient patient = diary.patient(clinic, "Testley", "Pat");
        UUID id = diary.appointment(
                clinic, diary.referral(clinic, patient, details()), diary.place(clinic, TODAY.atTime(10, 0), 30));
        Referral second = diary.referral(clinic, patient, details());
        assertThat(page("/slots?referral=" + second.id()))
                .contains("has an appointment on Tuesday 3 March 2026 10:00", "/appointments/" + id);
        assertThat(page("/slots?appointment=" + id)).doesNotContain("has an appointment on");
        clock.set(Instant.parse("2026-03-03T10:01:00Z"));
        assertThat(page("/slots?referral=" + second.id())).doesNotContain("has an appointment on");
    }

    private static ReferralDetails details() {
        return DiaryFixture.details(Method.MICROSUCTION, Ears.LEFT, null, null, null);
    }

    private Patient person(@Nullable LocalDate born, @Nullable String consentBy) {
        PatientDetails details = new PatientDetails(
                "Testley",
                "Sam",
                born,
                null,
                null,
                null,
                Answer.NOT_KNOWN,
                ContactRoute.CALL,
                null,
                null,
                consentBy,
                null,
                Answer.NO);
        return patients.save(new Patient(
                UUID.randomUUID(),
                clinic.id(),
                "T" + UUID.randomUUID().toString().substring(0, 8),
                details,
                clock.instant()));
    }

    private String page(String address) throws Exception {
        return mvc.perform(get(address).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andReturn()
                .getResponse()
                .getContentAsString();
    }
}
