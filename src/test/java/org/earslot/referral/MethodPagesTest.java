package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.METHOD_CONTRAINDICATED;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.model;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.earslot.account.Role;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.CautionRule;
import org.earslot.caution.CautionTable;
import org.earslot.caution.CautionTables;
import org.earslot.caution.Mark;
import org.earslot.caution.SignOff;
import org.earslot.caution.Verdict;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.FormVersion;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class MethodPagesTest {

    /** A Thursday; 42 days before it is 5 February. */
    private static final LocalDate THURSDAY = LocalDate.of(2026, 3, 19);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Booking booking;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Referrals referrals;

    @Autowired
    private CautionTables tables;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;
    private RequestPostProcessor practitioner;
    private RequestPostProcessor lead;

    @BeforeEach
    void opensAClinic() {
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        lead = SignedIn.lead(clinic.id());
    }

    @ParameterizedTest
    @CsvSource({"2026-02-05, false", "2026-02-06, false", "2026-02-04, true"})
    void books_an_expiring_caution_by_the_date_of_the_appointment(LocalDate infection, boolean booked) {
        Referral referral = infected(infection);
        assertThat(book(referral, THURSDAY) instanceof Done).isEqualTo(booked);
    }

    @ParameterizedTest
    @CsvSource({"2026-04-30, 2026-04-30", "2206-04-30, 2026-03-03", "1926-04-30, 2026-03-03", "soon, 2026-03-03"})
    void judges_on_the_date_asked_for_unless_it_is_none_to_book_on(String asked, LocalDate judged) throws Exception {
        Referral referral = infected(LocalDate.of(2026, 2, 20));
        mvc.perform(get("/referrals/" + referral.id()).param("on", asked).with(receptionist))
                .andExpect(status().isOk())
                .andExpect(model().attribute("on", judged));
    }

    @Test
    void judges_again_when_the_appointment_is_moved() {
        Referral referral = infected(LocalDate.of(2026, 2, 5));
        BookingResult late = book(referral, THURSDAY.plusDays(1));
        UUID id = ((Done) late).appointmentId();
        int version =
                appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow().version();
        assertThat(booking.move(clinic.id(), id, version, place(THURSDAY)))
                .isInstanceOfSatisfying(
                        NotDone.class,
                        no -> assertThat(no.only(METHOD_CONTRAINDICATED)).isTrue());
        assertThat(booking.move(clinic.id(), id, version, place(THURSDAY.plusDays(4))))
                .isInstanceOf(Done.class);
    }

    @Test
    void says_that_a_caution_leaves_no_day_and_shows_the_other_methods() throws Exception {
        Referral referral = infected(LocalDate.of(2026, 2, 27));
        mvc.perform(get("/slots?referral=" + referral.id() + "&from=2026-03-09&to=2026-03-13")
                        .with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("On these days irrigation is contraindicated")))
                .andExpect(content().string(containsString("/slots/methods?referral=" + referral.id())));
    }

    @Test
    void books_what_a_practitioner_has_overridden_and_nothing_beyond() throws Exception {
        Referral referral = infected(LocalDate.of(2026, 2, 27));
        String page = "/referrals/" + referral.id();
        mvc.perform(post(page + "/override")
                        .param("method", "irrigation")
                        .param("reason", "settled <i>early</i>, seen by ENT")
                        .with(practitioner)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        mvc.perform(get(page).with(receptionist))
                .andExpect(content().string(containsString("Overridden by a practitioner")))
                .andExpect(content().string(containsString("settled &lt;i&gt;early&lt;/i&gt;, seen by ENT")));
        Referral worse =
                referrals.findByClinicIdAndId(clinic.id(), referral.id()).orElseThrow();
        assertThat(book(worse, THURSDAY)).isInstanceOf(Done.class);

        Referral other = infected(LocalDate.of(2026, 2, 27));
        override(other, practitioner, "irrigation", "seen", 302);
        other.amend(cautions(
                new AskedCaution(Caution.MIDDLE_EAR_INFECTION, null, LocalDate.of(2026, 2, 27)),
                new AskedCaution(Caution.PERFORATION, null, null)));
        referrals.save(other);
        assertThat(book(other, THURSDAY)).isInstanceOf(NotDone.class);
    }

    @Test
    void leaves_overriding_to_practitioners_with_a_reason_who_hold_the_method() throws Exception {
        Referral referral = infected(LocalDate.of(2026, 2, 27));
        override(referral, receptionist, "irrigation", "please", 403);
        override(referral, lead, "irrigation", "please", 403);
        override(referral, practitioner, "irrigation", " ", 400);
        override(referral, practitioner, "laser", "why not", 400);
        override(referral, practitioner, "irrigation", "x".repeat(501), 400);
        override(referral, practitioner, "microsuction", "nothing forbids it", 409);
        override(referral, SignedIn.practitioner(clinic.id(), clinic.p2()), "irrigation", "not held by P2", 409);
        assertThat(book(referral, THURSDAY)).isInstanceOf(NotDone.class);
    }

    @Test
    void takes_an_override_back() throws Exception {
        Referral referral = infected(LocalDate.of(2026, 2, 27));
        override(referral, practitioner, "irrigation", "seen", 302);
        String page = mvc.perform(get("/referrals/" + referral.id()).with(practitioner))
                .andReturn()
                .getResponse()
                .getContentAsString();
        String action = page.replaceAll("(?s).*action=\"([^\"]+/withdraw)\".*", "$1");
        mvc.perform(post(action).with(receptionist).with(csrf())).andExpect(status().isForbidden());
        mvc.perform(post(action).with(practitioner).with(csrf())).andExpect(status().is3xxRedirection());
        mvc.perform(post(action).with(practitioner).with(csrf())).andExpect(status().isNotFound());
        assertThat(book(referral, THURSDAY)).isInstanceOf(NotDone.class);
    }

    @Test
    void shows_the_methods_side_by_side_and_offers_no_contraindicated_one() throws Exception {
        Referral referral = infected(LocalDate.of(2026, 2, 27));
        mvc.perform(get("/slots/methods?referral=" + referral.id()).with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Not offered on this date")))
                .andExpect(content().string(containsString("Usually ")))
                .andExpect(content().string(containsString("middle-ear infection")))
                .andExpect(content().string(containsString("Plan this method")));
        mvc.perform(get("/slots/methods?referral=" + referral.id() + "&on=2026-06-01")
                        .with(receptionist))
                .andExpect(content().string(not(containsString("Not offered on this date"))));
        mvc.perform(get("/slots/methods?referral=" + referral.id() + "&on=whenever")
                        .with(receptionist))
                .andExpect(status().isBadRequest());
        mvc.perform(post("/referrals/" + referral.id() + "/method")
                        .param("method", "manual_removal")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        Referral planned =
                referrals.findByClinicIdAndId(clinic.id(), referral.id()).orElseThrow();
        assertThat(planned.details().request().methodPlanned()).isEqualTo(Method.MANUAL_REMOVAL);
        assertThat(book(planned, THURSDAY)).isInstanceOf(Done.class);
        mvc.perform(post("/referrals/" + referral.id() + "/method")
                        .param("method", "irrigation")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isConflict());
    }

    @Test
    void lets_the_lead_settle_a_cell_and_counts_the_change() throws Exception {
        String before = tables.of(clinic.id()).version();
        mvc.perform(post("/setup/cautions/cannot_keep_still/microsuction")
                        .param("version", shown(Caution.CANNOT_KEEP_STILL, Method.MICROSUCTION))
                        .param("verdict0", "precaution")
                        .param("within0", "3")
                        .param("unit0", "weeks")
                        .param("source0", "local protocol 4")
                        .param("signOff", "yes")
                        .param("role", "lead audiologist")
                        .param("reviewBy", "2027-03-03")
                        .with(leadWhoPractises())
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        CautionTable table = tables.of(clinic.id());
        assertThat(table.version()).isEqualTo(before + ".1");
        assertThat(table.rules(Caution.CANNOT_KEEP_STILL, Method.MICROSUCTION))
                .singleElement()
                .satisfies(rule -> {
                    assertThat(rule.verdict()).isEqualTo(Verdict.PRECAUTION);
                    assertThat(rule.within()).contains(java.time.Period.ofWeeks(3));
                    assertThat(rule.mark()).isEqualTo(Mark.CHANGED_HERE);
                    assertThat(rule.signOff())
                            .contains(new SignOff(
                                    "P1", "lead audiologist", LocalDate.of(2026, 3, 3), LocalDate.of(2027, 3, 3)));
                });
        assertThat(table.rules(Caution.CANNOT_KEEP_STILL, Method.IRRIGATION))
                .isEqualTo(CautionTable.defaults().rules(Caution.CANNOT_KEEP_STILL, Method.IRRIGATION));
        assertThat(table.unsigned()).isEqualTo(CautionTable.defaults().unsigned() - 1);
        mvc.perform(get("/setup/cautions").with(lead))
                .andExpect(content().string(containsString("local protocol 4")))
                .andExpect(content().string(containsString("within 3 weeks")))
                .andExpect(content()
                        .string(containsString("signed off by P1, lead audiologist, 3 Mar 2026; review by 3 Mar 2027")))
                .andExpect(content().string(containsString("not signed off here")));
        mvc.perform(get("/setup/cautions/cannot_keep_still/microsuction").with(lead))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("local protocol 4")));
        assertThat(tables.of(clinics.open().id()).version()).isEqualTo(before);
    }

    @ParameterizedTest
    @CsvSource({
        "verdict0, perhaps",
        "verdict0, ''",
        "within0, 0",
        "within0, 241",
        "within0, soon",
        "source0, ''",
        "verdict1, never"
    })
    void refuses_a_cell_that_cannot_be(String field, String value) throws Exception {
        mvc.perform(post("/setup/cautions/tinnitus/microsuction")
                        .param("verdict0", field.equals("verdict0") ? value : "precaution")
                        .param("within0", field.equals("within0") ? value : "")
                        .param("source0", field.equals("source0") ? value : "local protocol")
                        .param("verdict1", field.equals("verdict1") ? value : "")
                        .with(lead)
                        .with(csrf()))
                .andExpect(status().isBadRequest());
        assertThat(tables.of(clinic.id()).version())
                .isEqualTo(CautionTable.defaults().version());
    }

    @Test
    void leaves_signing_off_to_a_practitioner_and_changing_texts_to_any_lead() throws Exception {
        mvc.perform(cell("tinnitus", "microsuction").param("signOff", "yes").with(lead))
                .andExpect(status().isConflict());
        mvc.perform(cell("tinnitus", "microsuction").with(lead)).andExpect(status().is3xxRedirection());
        assertThat(tables.of(clinic.id()).rules(Caution.TINNITUS, Method.MICROSUCTION))
                .singleElement()
                .satisfies(rule -> assertThat(rule.signedOff()).isFalse());
        mvc.perform(signAll(tables.of(clinic.id()).version()).with(lead)).andExpect(status().isConflict());
        assertThat(tables.of(clinic.id()).unsigned())
                .isEqualTo(CautionTable.defaults().unsigned());
        mvc.perform(get("/setup/cautions").with(lead))
                .andExpect(content().string(not(containsString("I have read every cell"))));
    }

    @Test
    void signs_the_whole_table_once_as_it_was_read_and_asks_again_when_the_review_is_due() throws Exception {
        mvc.perform(get("/setup").with(lead)).andExpect(content().string(containsString("to-sign")));
        mvc.perform(signAll("2026-01").with(leadWhoPractises())).andExpect(status().isConflict());
        mvc.perform(post("/setup/cautions/sign-off")
                        .param("version", tables.of(clinic.id()).version())
                        .param("role", "lead")
                        .param("reviewBy", "2026-06-03")
                        .with(leadWhoPractises())
                        .with(csrf()))
                .andExpect(status().isBadRequest());
        mvc.perform(signAll(tables.of(clinic.id()).version()).with(leadWhoPractises()))
                .andExpect(status().is3xxRedirection());
        CautionTable signed = tables.of(clinic.id());
        assertThat(signed.unsigned()).isZero();
        assertThat(signed.reviewDue(LocalDate.of(2026, 6, 3))).isZero();
        assertThat(signed.reviewDue(LocalDate.of(2026, 6, 4)))
                .isEqualTo(Caution.values().length * (long) Method.values().length);
        assertThat(signed.rules(Caution.ANTICOAGULANT, Method.IRRIGATION))
                .extracting(CautionRule::mark)
                .containsExactly(Mark.PUBLISHED);
        mvc.perform(get("/setup").with(lead)).andExpect(content().string(not(containsString("to-sign"))));
        mvc.perform(cell("tinnitus", "microsuction").with(lead)).andExpect(status().is3xxRedirection());
        assertThat(tables.of(clinic.id()).unsigned()).isEqualTo(1);
    }

    @Test
    void keeps_the_mark_of_a_cell_that_is_signed_as_it_stands() throws Exception {
        CautionRule before = CautionTable.defaults()
                .rules(Caution.TINNITUS, Method.MICROSUCTION)
                .get(0);
        mvc.perform(post("/setup/cautions/tinnitus/microsuction")
                        .param("version", shown(Caution.TINNITUS, Method.MICROSUCTION))
                        .param("verdict0", before.verdict().code())
                        .param("source0", before.source())
                        .param("signOff", "yes")
                        .param("role", "lead nurse")
                        .param("reviewBy", "2026-12-01")
                        .with(leadWhoPractises())
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(tables.of(clinic.id()).rules(Caution.TINNITUS, Method.MICROSUCTION))
                .singleElement()
                .satisfies(rule -> {
                    assertThat(rule.mark()).isEqualTo(Mark.PUBLISHED);
                    assertThat(rule.signedOff()).isTrue();
                });
    }

    private RequestPostProcessor leadWhoPractises() {
        return SignedIn.as(SignedIn.person(clinic.id(), Role.LEAD, clinic.p1()));
    }

    /** The version that the form of a cell carries now. */
    private String shown(Caution caution, Method method) {
        return FormVersion.ofText(tables.of(clinic.id()).rules(caution, method).toString())
                .text();
    }

    private MockHttpServletRequestBuilder cell(String caution, String method) {
        return post("/setup/cautions/" + caution + "/" + method)
                .param(
                        "version",
                        shown(
                                Caution.of(caution).orElseThrow(),
                                Method.of(method).orElseThrow()))
                .param("verdict0", "precaution")
                .param("source0", "local protocol 5")
                .param("role", "manager")
                .param("reviewBy", "2026-12-01")
                .with(csrf());
    }

    private static MockHttpServletRequestBuilder signAll(String version) {
        return post("/setup/cautions/sign-off")
                .param("version", version)
                .param("read", "yes")
                .param("role", "lead nurse")
                .param("reviewBy", "2026-06-03")
                .with(csrf());
    }

    private void override(Referral referral, RequestPostProcessor who, String method, String reason, int expected)
            throws Exception {
        mvc.perform(post("/referrals/" + referral.id() + "/override")
                        .param("method", method)
                        .param("reason", reason)
                        .with(who)
                        .with(csrf()))
                .andExpect(status().is(expected));
    }

    private Referral infected(LocalDate infection) {
        return diary.referral(clinic, cautions(new AskedCaution(Caution.MIDDLE_EAR_INFECTION, null, infection)));
    }

    private static ReferralDetails cautions(AskedCaution... cautions) {
        return new ReferralDetails(
                new ReferralSource(null, LocalDate.of(2026, 2, 20), Origin.REFERRAL),
                new VisitRequest(
                        null,
                        Priority.ROUTINE,
                        Ears.BOTH,
                        Method.IRRIGATION,
                        Answer.YES,
                        5,
                        null,
                        null,
                        null,
                        null,
                        Answer.NOT_KNOWN),
                ReportedEars.UNKNOWN,
                new CautionAnswers(true, List.of(cautions)),
                RedFlagAnswers.NOT_ASKED);
    }

    private BookingResult book(Referral referral, LocalDate date) {
        return booking.book(clinic.id(), new OfReferral(referral.id(), place(date)), "receptionist");
    }

    private AskedPlace place(LocalDate date) {
        return diary.place(clinic, date.atTime(10, 0), 30);
    }
}
