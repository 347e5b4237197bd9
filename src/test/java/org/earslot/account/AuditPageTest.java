package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.DayOfWeek;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.kit.Kit;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.hamcrest.Matchers;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

@PageTest
class AuditPageTest {

    private static final AuditTrail.Choice EVERYTHING = new AuditTrail.Choice(null, "", "", "");

    @Autowired
    private Scenes scenes;

    @Autowired
    private AuditTrail trail;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private ApplicationEventPublisher events;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private SettableClock clock;

    @Autowired
    private Accounts accounts;

    @Autowired
    private AccountAdministration administration;

    @Autowired
    private WeeklySessions sessions;

    @Autowired
    private Kit kit;

    private Scene scene;
    private ClinicId clinic;

    @BeforeEach
    void a_clinic() {
        scene = scenes.open();
        clinic = scene.clinicId();
    }

    @AfterEach
    void nobody_is_signed_in() {
        SecurityContextHolder.clearContext();
    }

    @Test
    void keeps_who_did_what_to_which_record_and_when() {
        signInAs(Role.RECEPTIONIST);
        announce("record-viewed", "patient", "K000012");
        AuditEntry kept = trail.latest(clinic, EVERYTHING, 0).getContent().get(0);
        assertThat(kept.who()).isEqualTo("receptionist");
        assertThat(kept.at()).isEqualTo(clock.instant());
        assertThat(kept.action()).isEqualTo("record-viewed");
        assertThat(kept.subjectKind()).isEqualTo("patient");
        assertThat(kept.subjectId()).hasValue("K000012");
    }

    @Test
    void forgets_what_was_announced_in_a_change_that_failed() {
        new TransactionTemplate(transactions).executeWithoutResult(change -> {
            announce("patient-changed", "patient", "K000012");
            change.setRollbackOnly();
        });
        assertThat(trail.latest(clinic, EVERYTHING, 0)).isEmpty();
    }

    @Test
    void keeps_a_view_that_is_announced_while_reading() {
        TransactionTemplate reading = new TransactionTemplate(transactions);
        reading.setReadOnly(true);
        reading.executeWithoutResult(view -> announce("record-viewed", "patient", "K000012"));
        assertThat(trail.latest(clinic, EVERYTHING, 0)).hasSize(1);
    }

    @Test
    void shows_the_lines_of_a_day_a_person_and_a_record() throws Exception {
        signInAs(Role.RECEPTIONIST);
        announce("record-viewed", "patient", "K1");
        signInAs(Role.PRACTITIONER);
        announce("referral-seen", "referral", "R1");
        clock.advance(Duration.ofDays(1));
        announce("visit-changed", "visit", "V1");
        SecurityContextHolder.clearContext();

        expect("", "K1", "R1", "V1");
        expect("?day=" + LocalDate.of(2026, 3, 3), "K1", "R1");
        expect("?who=practitioner", "R1", "V1");
        expect("?kind=referral", "R1");
        expect("?kind=patient&subject=K1", "K1");
        expect("?kind=patient&subject=K2");
    }

    private void expect(String choice, String... shown) throws Exception {
        String page = scene.lead().page("/audit" + choice);
        for (String subject : new String[] {"K1", "R1", "V1"}) {
            boolean expected = java.util.List.of(shown).contains(subject);
            assertThat(page.contains(">" + subject + "</a>"))
                    .as(choice + " " + subject)
                    .isEqualTo(expected);
        }
    }

    @Test
    void names_practitioners_rooms_sessions_and_kit() throws Exception {
        signInAs(Role.LEAD);
        announce("practitioner-changed", "set-up", scene.clinic().p1().toString());
        announce("room-changed", "set-up", scene.clinic().r1().toString());
        announce("policy-settled", "set-up", clinic.toString());
        WeeklySession session = sessions.findByClinicId(clinic).stream()
                .filter(one -> one.day() == DayOfWeek.MONDAY
                        && one.practitionerId().equals(scene.clinic().p1()))
                .findFirst()
                .orElseThrow();
        announce("session-ended", "set-up", session.id().toString());
        kit.unit(clinic, Optional.empty(), "Second lamp", null, null, true);
        SecurityContextHolder.clearContext();
        assertThat(scene.lead().page("/audit"))
                .contains(">P1</a>", ">R1</a>", ">Test clinic</a>", ">Monday 09:00, P1</a>", ">Second lamp</a>");
    }

    @Test
    void turns_pages_of_a_hundred_lines() throws Exception {
        for (int i = 0; i < 101; i++) {
            announce("record-viewed", "patient", "K" + (1000 + i));
        }
        scene.lead()
                .reads("/audit")
                .andExpect(content().string(Matchers.containsString(">K1100<")))
                .andExpect(content().string(Matchers.not(Matchers.containsString(">K1000<"))))
                .andExpect(content().string(Matchers.containsString("page=1")));
        scene.lead().reads("/audit?page=1").andExpect(content().string(Matchers.containsString(">K1000<")));
    }

    @Test
    void names_the_patient_a_line_is_about_and_counts_those_of_a_list() throws Exception {
        Scene own = scenes.open();
        List<UUID> all = java.util.stream.IntStream.range(0, 5)
                .mapToObj(i -> fixture.patient(own.clinic(), "Quill" + i, "Pat").id())
                .toList();
        events.publishEvent(Audited.viewed(own.clinicId(), "list of the morning", all));
        own.lead()
                .reads("/audit")
                .andExpect(content().string(Matchers.containsString("list of the morning: 5 patients")))
                .andExpect(content().string(Matchers.not(Matchers.containsString("Quill"))));
        events.publishEvent(Audited.viewed(own.clinicId(), "patient", all.subList(0, 1)));
        own.lead()
                .reads("/audit")
                .andExpect(content().string(Matchers.containsString("Quill0, Pat")))
                .andExpect(content().string(Matchers.containsString("/audit/patients/" + all.get(0))))
                .andExpect(content().string(Matchers.not(Matchers.containsString("Quill1"))));
    }

    @Test
    void folds_repeated_views_of_the_whole_trail_and_names_accounts() throws Exception {
        Scene own = scenes.open();
        UUID one = fixture.patient(own.clinic(), "Quill", "Pat").id();
        UUID other = fixture.patient(own.clinic(), "Marrow", "Kim").id();
        signInAs(Role.RECEPTIONIST);
        for (int i = 0; i < 14; i++) {
            events.publishEvent(Audited.viewed(own.clinicId(), "patient", List.of(one)));
            events.publishEvent(Audited.viewed(own.clinicId(), "patient", List.of(other)));
            clock.advance(Duration.ofMinutes(1));
        }
        String name = "kim" + UUID.randomUUID();
        administration.admit(clinic, name, "Kim", Role.RECEPTIONIST, null).orElseThrow();
        UUID account = accounts.findBySignInName(name).orElseThrow().id();
        announce("account-changed", "account", account.toString());
        SecurityContextHolder.clearContext();
        Document page = Jsoup.parse(own.lead().page("/audit"));
        assertThat(page.select("tbody tr:contains(Quill)").eachText())
                .hasSize(1)
                .allMatch(line -> line.contains("14 times, 09:00:00 to 09:13:00"));
        assertThat(page.select("tbody tr:contains(Marrow)")).hasSize(1);
        assertThat(scene.lead().page("/audit")).contains(">" + name + "</a>");
    }

    @Test
    void folds_repeated_views_of_a_patient_and_leaves_each_change_a_line() throws Exception {
        Scene own = scenes.open();
        UUID patient = fixture.patient(own.clinic(), "Quill", "Pat").id();
        for (int i = 0; i < 14; i++) {
            signInAs(Role.RECEPTIONIST);
            events.publishEvent(Audited.viewed(own.clinicId(), "patient", List.of(patient)));
            events.publishEvent(
                    new Audited.Entry(own.clinicId(), "referral-amended", "referral", "r", "reason").about(patient));
            clock.advance(Duration.ofMinutes(1));
        }
        SecurityContextHolder.clearContext();
        String page = own.lead()
                .reads("/audit/patients/" + patient)
                .andExpect(status().isOk())
                .andExpect(content().string(Matchers.containsString("14 times, 09:00:00 to 09:13:00")))
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(page.split("referral amended", -1)).hasSize(15);
        own.lead()
                .reads("/audit/patients/" + patient + "?who=nobody")
                .andExpect(content().string(Matchers.not(Matchers.containsString("referral-amended"))));
        scene.lead().reads("/audit/patients/" + patient).andExpect(status().isNotFound());
    }

    @Test
    void shows_nothing_of_another_clinic() throws Exception {
        announce("record-viewed", "patient", "K000012");
        scenes.open()
                .lead()
                .reads("/audit")
                .andExpect(status().isOk())
                .andExpect(content().string(Matchers.not(Matchers.containsString("K000012"))));
    }

    @Test
    void refuses_a_day_or_page_that_cannot_be() throws Exception {
        for (String choice :
                new String[] {"day=2026-02-30", "day=yesterday", "day=-999999999-01-01", "page=-1", "page=x"}) {
            scene.lead()
                    .reads("/audit?" + choice)
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(Matchers.containsString("Please ")));
        }
    }

    @Test
    void exports_lines_that_no_spreadsheet_takes_for_formulas() throws Exception {
        events.publishEvent(new Audited.Entry(clinic, "patient-changed", "patient", "=1+1", "@cmd, \"quoted\""));
        scene.lead()
                .reads("/audit/export")
                .andExpect(status().isOk())
                .andExpect(content().contentTypeCompatibleWith("text/csv"))
                .andExpect(content().string(Matchers.startsWith("at,who,action,subject_kind,subject_id,detail\r\n")))
                .andExpect(content().string(Matchers.containsString(",patient,'=1+1,\"'@cmd, \"\"quoted\"\"\"\r\n")))
                .andExpect(content().string(Matchers.containsString("audit-exported")));
    }

    private void signInAs(Role role) {
        SecurityContextHolder.getContext()
                .setAuthentication(SignedIn.authentication(SignedIn.person(clinic, role, null)));
    }

    private void announce(String action, String kind, String id) {
        events.publishEvent(new Audited.Entry(clinic, action, kind, id, null));
    }
}
