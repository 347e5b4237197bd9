package org.earslot.day.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.testing.OnH2;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.testing.Visitor;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.SpringBootTest.WebEnvironment;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;

/** A press on one screen reaches the other open screens of the clinic, by a real server. */
@SpringBootTest(
        webEnvironment = WebEnvironment.RANDOM_PORT,
        properties = {"earslot.day-streams.per-account=3", "earslot.day-streams.heartbeat=200ms"})
@OnH2
@Import(SettableClock.Bringing.class)
@ExtendWith(OutputCaptureExtension.class)
class DayStreamsTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final String CHANGES = "/day/" + TODAY + "/changes";

    @LocalServerPort
    private int port;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private SettableClock clock;

    @Autowired
    private DayStreams streams;

    private TestClinic clinic;
    private UUID appointment;

    @BeforeEach
    void a_list() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
        appointment = fixture.appointment(clinic, TODAY.atTime(10, 0), 30);
    }

    @Test
    void a_press_is_told_to_the_other_screens_of_the_clinic_and_to_no_other_clinic() throws Exception {
        Visitor desk = visitor(clinic, Role.RECEPTIONIST);
        Visitor chair = visitor(clinic, Role.PRACTITIONER);
        Visitor stranger = visitor(clinics.open(), Role.LEAD);
        try (Visitor.Stream here = chair.stream(CHANGES);
                Visitor.Stream elsewhere = stranger.stream(CHANGES);
                Visitor.Stream tomorrow = chair.stream("/day/2026-03-04/changes")) {
            assertThat(here.status()).isEqualTo(200);
            waitFor(here, "event:open");
            waitFor(elsewhere, "event:open");
            waitFor(tomorrow, "event:open");
            desk.post("/appointments/" + appointment + "/check-in", "back", "day");
            waitFor(here, "event:changed");
            assertThat(chair.get("/day/" + TODAY + "/now").body()).contains("arrived 09:00");
            waitFor(elsewhere, ":still here");
            waitFor(tomorrow, ":still here");
            assertThat(elsewhere.lines()).doesNotContain("event:changed");
            assertThat(tomorrow.lines()).doesNotContain("event:changed");
        }
    }

    @Test
    void a_stream_carries_nothing_of_a_patient() throws Exception {
        Visitor desk = visitor(clinic, Role.RECEPTIONIST);
        List<String> all = new ArrayList<>();
        try (Visitor.Stream here = desk.stream(CHANGES)) {
            desk.post("/appointments/" + appointment + "/check-in", "back", "day");
            String line = "";
            while (!line.equals("event:changed")) {
                line = here.lines().poll(20, TimeUnit.SECONDS);
                all.add(String.valueOf(line));
            }
            all.add(here.lines().poll(20, TimeUnit.SECONDS));
        }
        assertThat(all)
                .allMatch(line -> line.isEmpty()
                        || line.startsWith("event:")
                        || line.startsWith("retry:")
                        || line.equals("data:" + TODAY)
                        || line.equals(":still here"));
    }

    @Test
    void an_account_has_so_many_streams_and_gets_one_back_when_a_screen_is_closed() throws Exception {
        Visitor desk = visitor(clinic, Role.RECEPTIONIST);
        List<Visitor.Stream> open = new ArrayList<>();
        for (int i = 0; i < 3; i++) {
            open.add(desk.stream(CHANGES));
        }
        try (Visitor.Stream tooMany = desk.stream(CHANGES)) {
            assertThat(tooMany.status()).isEqualTo(503);
        }
        try (Visitor.Stream another = visitor(clinic, Role.LEAD).stream(CHANGES)) {
            assertThat(another.status()).isEqualTo(200);
        }
        open.forEach(Visitor.Stream::close);
        await().atMost(Duration.ofSeconds(20)).until(() -> {
            try (Visitor.Stream again = desk.stream(CHANGES)) {
                return again.status() == 200;
            }
        });
    }

    @Test
    void ends_without_noise_in_the_log_when_the_person_signs_out(CapturedOutput log) throws Exception {
        Visitor desk = visitor(clinic, Role.RECEPTIONIST);
        try (Visitor.Stream here = desk.stream(CHANGES)) {
            waitFor(here, "event:open");
            desk.post("/sign-out");
            streams.stop();
            waitFor(here, Visitor.Stream.END);
        } finally {
            streams.start();
        }
        assertThat(log.getAll()).doesNotContain("ERROR", "AuthorizationDeniedException");
    }

    @Test
    void closes_its_streams_and_takes_no_new_ones_when_the_server_goes_down() throws Exception {
        Visitor desk = visitor(clinic, Role.RECEPTIONIST);
        try (Visitor.Stream here = desk.stream(CHANGES)) {
            waitFor(here, "event:open");
            streams.stop();
            waitFor(here, Visitor.Stream.END);
            try (Visitor.Stream late = desk.stream(CHANGES)) {
                assertThat(late.status()).isEqualTo(503);
            }
        } finally {
            streams.start();
        }
    }

    @Test
    void a_visitor_gets_no_stream() throws Exception {
        Visitor desk = visitor(clinic, Role.RECEPTIONIST);
        desk.post("/sign-out");
        try (Visitor.Stream none = desk.stream(CHANGES)) {
            assertThat(none.status()).isEqualTo(302);
        }
        Visitor back = visitor(clinic, Role.RECEPTIONIST);
        try (Visitor.Stream strange = back.stream("/day/2026-02-31/changes")) {
            assertThat(strange.status()).isEqualTo(400);
        }
    }

    private Visitor visitor(TestClinic of, Role role) throws Exception {
        return Visitor.signIn(port, accountAdministration, of.id(), role, role == Role.PRACTITIONER ? of.p1() : null);
    }

    private static void waitFor(Visitor.Stream stream, String line) throws InterruptedException {
        String next = stream.lines().poll(20, TimeUnit.SECONDS);
        while (next != null && !next.equals(line)) {
            next = stream.lines().poll(20, TimeUnit.SECONDS);
        }
        assertThat(next).isEqualTo(line);
    }
}
