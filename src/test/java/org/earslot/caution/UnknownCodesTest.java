package org.earslot.caution;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.RED_FLAG_OPEN;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.exchange.VisitLines;
import org.earslot.patient.Patient;
import org.earslot.referral.Intake;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.SoftenerRule;
import org.earslot.referral.VisitRequest;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Cautions and red flags stored in a code of another release: never "none", until a practitioner has decided. */
@PageTest
class UnknownCodesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);
    private static final String CODE = "<i>later_release</i>";
    private static final String SHOWN = "&lt;i&gt;later_release&lt;/i&gt;";
    private static final String WARNING = "Unknown caution: check with the patient.";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Booking booking;

    @Autowired
    private Intake intake;

    @Autowired
    private Referrals referrals;

    @Autowired
    private RedFlagTriage triage;

    @Autowired
    private PatientCautions cautions;

    @Autowired
    private MethodSuitability suitability;

    @Autowired
    private SoftenerRule softener;

    @Autowired
    private JdbcTemplate jdbc;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor practitioner;
    private Patient patient;
    private Referral referral;
    private int booked;

    @BeforeEach
    void a_referral_with_none_of_the_list() {
        clinic = clinics.open();
        clock.set(Instant.parse("2026-03-03T08:00:00Z"));
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        patient = diary.patient(clinic, "Codewell", "Una");
        referral = diary.referral(clinic, patient, none());
    }

    @Test
    void a_caution_is_a_precaution_for_every_method_and_asks_a_clinician_about_softener() {
        assertThat(verdicts(referral)).containsOnly(Verdict.SUITABLE);
        plantOnReferral();
        Referral stored = again(referral);
        assertThat(verdicts(stored)).containsOnly(Verdict.PRECAUTION);
        assertThat(softener.advice(stored, Ears.BOTH, DAY).use()).isEqualTo(SoftenerAdvice.Use.ASK_CLINICIAN);
        assertThat(cautions.summary(clinic.id(), patient.id(), stored.details().cautions(), DAY)
                        .nothingKnown())
                .isFalse();
        Referral later = diary.referral(clinic, patient, none());
        assertThat(verdicts(later)).as("another referral of the patient").containsOnly(Verdict.PRECAUTION);
    }

    @Test
    void a_caution_that_could_not_be_answered_and_one_on_record_of_the_patient_count_alike() {
        jdbc.update("update referral set cautions_not_known = 'later_release' where id = ?", referral.id());
        assertThat(verdicts(again(referral))).containsOnly(Verdict.PRECAUTION);
        Patient other = diary.patient(clinic, "Codeley", "Ulf");
        plantOnPatient(other);
        assertThat(verdicts(diary.referral(clinic, other, none()))).containsOnly(Verdict.PRECAUTION);
    }

    @Test
    void a_caution_is_shown_with_its_code_wherever_others_warn() throws Exception {
        plantOnReferral();
        UUID appointment = diary.appointment(clinic, again(referral), diary.place(clinic, DAY.atTime(9, 0), 20));
        Referral unbooked = diary.referral(clinic, patient, none());
        for (String page : List.of(
                "/referrals/" + referral.id(),
                "/patients/" + patient.id(),
                "/slots?referral=" + unbooked.id(),
                "/day/" + DAY + "/sheet",
                "/day/" + DAY + "/now")) {
            assertThat(page(page)).as(page).contains(SHOWN).doesNotContain(CODE);
        }
        assertThat(page("/referrals/" + referral.id())).contains(WARNING).doesNotContain("none of the list");
        assertThat(page("/patients/" + patient.id())).contains(WARNING).doesNotContain("No caution is on record");
        assertThat(page("/day/" + DAY + "/now")).doesNotContain("cautions: none of the list");
        assertThat(page("/appointments/" + appointment)).contains("a caution on record is not known to this release");
        String api = answer("/api/v1/referrals/" + referral.id(), SignedIn.program(clinic.id()));
        assertThat(api)
                .contains("\"cautionsUnknown\":[\"<i>later_release</i>\"]")
                .contains("\"cautions\":[]");
        String without = answer(
                "/api/v1/referrals/"
                        + diary.referral(clinic, Method.IRRIGATION, Ears.LEFT).id(),
                SignedIn.program(clinic.id()));
        assertThat(without).doesNotContain("later_release");
    }

    /** The verdict became worse by an unknown caution alone: the reason is named. */
    @Test
    void a_method_that_suits_worse_by_an_unknown_caution_names_it() throws Exception {
        UUID appointment = diary.appointment(clinic, referral, diary.place(clinic, DAY.atTime(9, 0), 20));
        assertThat(page("/appointments/" + appointment)).doesNotContain("When booked:");
        plantOnReferral();
        assertThat(page("/appointments/" + appointment)).contains("Reason: unknown caution.");
    }

    /** A file that leaves it out would read as none. */
    @Test
    void an_exported_booking_holds_the_caution_as_it_is_stored() throws Exception {
        plantOnReferral();
        diary.appointment(clinic, again(referral), diary.place(clinic, DAY.atTime(9, 0), 20));
        assertThat(answer("/import/bookings.csv?from=" + DAY, SignedIn.lead(clinic.id())))
                .contains(patient.localNumber())
                .contains(CODE);
    }

    @Test
    void an_exported_visit_holds_the_caution_as_it_is_stored() throws Exception {
        byte[] log =
                VisitLines.log(VisitLines.line("V1", "cautions", "tinnitus")).getBytes(StandardCharsets.UTF_8);
        mvc.perform(
                post("/api/v1/visit-log").contentType("text/csv").content(log).with(SignedIn.program(clinic.id())));
        jdbc.update(
                "update visit set cautions = ? where clinic_id = ?",
                "tinnitus;" + CODE,
                clinic.id().value());
        assertThat(answer("/api/v1/visit-log", SignedIn.program(clinic.id()))).contains("tinnitus;" + CODE);
    }

    @Test
    void a_caution_outlives_a_change_of_the_referral_and_is_shortened_where_it_is_long() throws Exception {
        jdbc.update("update referral set cautions_not_known = ? where id = ?", "x".repeat(300), referral.id());
        plantOnReferral();
        answered(none());
        assertThat(again(referral).details().cautions().unknown()).hasSize(2);
        assertThat(page("/referrals/" + referral.id()))
                .contains(SHOWN)
                .contains("x".repeat(40) + "…")
                .doesNotContain("x".repeat(41));
    }

    @Test
    void a_practitioner_alone_clarifies_a_caution() throws Exception {
        plantOnReferral();
        plantOnPatient(patient);
        clarify(SignedIn.receptionist(clinic.id()), "a hearing implant", 403);
        clarify(SignedIn.lead(clinic.id()), "a hearing implant", 409);
        clarify(practitioner, " ", 400);
        assertThat(verdicts(again(referral))).containsOnly(Verdict.PRECAUTION);
        clarify(practitioner, "not <b>true</b>", 302);
        clarify(practitioner, "again", 404);
        assertThat(verdicts(again(referral))).containsOnly(Verdict.SUITABLE);
        assertThat(page("/referrals/" + referral.id())).doesNotContain(WARNING);
        assertThat(page("/patients/" + patient.id()))
                .doesNotContain(WARNING)
                .contains("unknown caution &quot;" + SHOWN + "&quot;")
                .contains("not &lt;b&gt;true&lt;/b&gt;");
        plantOnPatient(patient);
        assertThat(verdicts(again(referral))).as("recorded again").containsOnly(Verdict.PRECAUTION);
    }

    @Test
    void a_cell_of_the_table_for_an_unknown_caution_takes_nothing_away() throws Exception {
        jdbc.update(
                "insert into caution_cell (id, clinic_id, caution, method, place, verdict, all_clear, source, source_mark)"
                        + " values (?, ?, 'later_release', 'irrigation', 0, 'contraindicated', false, 's', 'later_mark')",
                UUID.randomUUID(),
                clinic.id().value());
        assertThat(verdicts(referral)).containsOnly(Verdict.SUITABLE);
        assertThat(answer("/setup/cautions", SignedIn.lead(clinic.id()))).contains("perforation");
    }

    @Test
    void a_red_flag_holds_the_referral_until_a_clinician_has_decided() throws Exception {
        for (String column : List.of("red_flags_yes", "red_flags_not_known")) {
            Referral held = diary.referral(clinic, none());
            jdbc.update("update referral set " + column + " = 'later_flag' where id = ?", held.id());
            assertThat(held.status()).isEqualTo(ReferralStatus.READY_TO_BOOK);
            assertThat(refused(held).why()).as(column).isEqualTo(RED_FLAG_OPEN);
            assertThat(page("/referrals/" + held.id()))
                    .contains("id=\"red-flags-unknown\"")
                    .contains("later_flag");
            assertThat(answer("/api/v1/referrals/" + held.id(), SignedIn.program(clinic.id())))
                    .contains("\"redFlagsUnknown\":[\"later_flag\"]");
            assertThat(triage.clear(again(held), "seen today", "practitioner")).isTrue();
            assertThat(triage.notUnderstood(again(held))).isEmpty();
            assertThat(book(held)).isInstanceOf(Done.class);
        }
    }

    @Test
    void a_red_flag_opens_a_case_as_soon_as_the_referral_is_judged() {
        jdbc.update("update referral set red_flags_yes = 'later_flag' where id = ?", referral.id());
        answered(none().with(RedFlagAnswers.NOT_ASKED));
        Referral judged = again(referral);
        assertThat(judged.status()).isEqualTo(ReferralStatus.TO_TRIAGE);
        assertThat(triage.open(judged).orElseThrow().unknown()).hasSize(1);
        assertThat(refused(judged).why()).isEqualTo(RED_FLAG_OPEN);
        answered(none());
        assertThat(again(referral).status()).as("answers that do not show it").isEqualTo(ReferralStatus.TO_TRIAGE);
        assertThat(triage.clear(again(referral), "seen", "practitioner")).isTrue();
        answered(none().with(RedFlagAnswers.NOT_ASKED));
        answered(none());
        intake.answerRedFlags(
                again(referral),
                new RedFlagAnswers(RedFlag.noneOfThese(), null),
                new Intake.Taker("receptionist", null));
        assertThat(again(referral).status()).isEqualTo(ReferralStatus.READY_TO_BOOK);
    }

    @Test
    void a_red_flag_answered_with_no_holds_nothing() {
        jdbc.update("update referral set red_flags_no = red_flags_no || ';later_flag' where id = ?", referral.id());
        assertThat(book(again(referral))).isInstanceOf(Done.class);
    }

    private void answered(ReferralDetails said) {
        intake.amend(again(referral), patient.details(), said, new Intake.Taker("receptionist", null));
    }

    private BookingRefusal refused(Referral held) {
        return ((NotDone) book(held)).refusals().get(0);
    }

    private Object book(Referral wanted) {
        return booking.book(
                clinic.id(),
                new OfReferral(wanted.id(), diary.place(clinic, DAY.atTime(9, 0).plusMinutes(30L * booked++), 20)),
                "receptionist");
    }

    private List<Verdict> verdicts(Referral of) {
        return suitability.judge(of, DAY).stream().map(Suitability::verdict).toList();
    }

    private void plantOnReferral() {
        jdbc.update(
                "insert into referral_caution (id, clinic_id, referral_id, caution, all_clear) values (?, ?, ?, ?, false)",
                UUID.randomUUID(),
                clinic.id().value(),
                referral.id(),
                CODE);
    }

    private void plantOnPatient(Patient of) {
        jdbc.update(
                "insert into patient_caution (id, clinic_id, patient_id, caution, all_clear, basis, recorded_on,"
                        + " recorded_by, confirmed_on, confirmed_by, version)"
                        + " values (?, ?, ?, ?, false, 'asked', ?, 'r', ?, 'r', 0)",
                UUID.randomUUID(),
                clinic.id().value(),
                of.id(),
                CODE,
                DAY,
                DAY);
    }

    private Referral again(Referral of) {
        return referrals.findByClinicIdAndId(clinic.id(), of.id()).orElseThrow();
    }

    private void clarify(RequestPostProcessor who, String reason, int expected) throws Exception {
        int status = mvc.perform(post("/patients/" + patient.id() + "/cautions/clarify")
                        .param("reason", reason)
                        .param("referral", referral.id().toString())
                        .with(who)
                        .with(csrf()))
                .andReturn()
                .getResponse()
                .getStatus();
        assertThat(status).isEqualTo(expected);
    }

    private String page(String address) throws Exception {
        return answer(address, practitioner);
    }

    private String answer(String address, RequestPostProcessor who) throws Exception {
        MockHttpServletResponse answer =
                mvc.perform(get(address).with(who)).andReturn().getResponse();
        assertThat(answer.getStatus()).as(address).isEqualTo(200);
        return answer.getContentAsString(StandardCharsets.UTF_8);
    }

    private static ReferralDetails none() {
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
                new CautionAnswers(true, List.of()),
                new RedFlagAnswers(RedFlag.noneOfThese(), null));
    }
}
