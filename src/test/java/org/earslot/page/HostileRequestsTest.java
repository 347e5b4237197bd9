package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Programs;
import org.earslot.account.Role;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.ServerTest;
import org.earslot.testing.TestClinics;
import org.earslot.testing.Visitor;
import org.earslot.testing.Wire;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.boot.tomcat.TomcatWebServer;
import org.springframework.boot.web.server.servlet.context.ServletWebServerApplicationContext;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** Requests that no browser sends are refused as the sender's fault, in a line of the log, and cost nothing. */
@ServerTest
@ExtendWith(OutputCaptureExtension.class)
class HostileRequestsTest {

    private static final int MEGABYTE = 1024 * 1024;

    @LocalServerPort
    private int port;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Programs programs;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private Collection<RequestMappingHandlerMapping> mappings;

    @Autowired
    private ServletWebServerApplicationContext application;

    @ParameterizedTest
    @ValueSource(strings = {"a=%zz", "a=%ED%A0%80", "a=%", "=%00&%F0%28%8C%28"})
    void a_form_whose_encoding_is_broken_is_refused_on_every_address(String form, CapturedOutput log) throws Exception {
        List<String> wrong = new ArrayList<>();
        for (String path : formAddresses()) {
            Wire.Answer answer = Wire.post(port, path, form);
            // Where the encoding can be read after all, a visitor is led to the sign-in.
            if (answer.status() >= 500) {
                wrong.add(path + " " + answer.status());
            }
        }
        assertThat(wrong).isEmpty();
        assertThat(log.getAll()).doesNotContain("InvalidParameterException", "\tat org.");
    }

    @Test
    void a_broken_form_is_a_page_with_400_and_one_line_in_the_log(CapturedOutput log) throws Exception {
        Wire.Answer answer = Wire.post(port, "/sign-in", "a=%zz");
        assertThat(answer.status()).isEqualTo(400);
        assertThat(answer.body()).contains("This could not be read", "</html>").doesNotContain("it was not your entry");
        assertThat(log.getAll().lines().filter(line -> line.contains("Refused with 400")))
                .singleElement()
                .asString()
                .contains("POST /sign-in");
        assertThat(Wire.ask(port, "GET /referrals?status=%zz").status()).isLessThan(500);
    }

    @Test
    void too_many_fields_and_too_large_a_form_are_refused() throws Exception {
        String many = IntStream.range(0, 1500).mapToObj(i -> "f" + i + "=1").collect(Collectors.joining("&"));
        assertThat(Wire.post(port, "/sign-in", many).status()).isIn(400, 413);
        Wire.Answer large = Wire.post(port, "/sign-in", "a=" + "x".repeat(3 * MEGABYTE));
        assertThat(large.status()).isEqualTo(413);
        assertThat(large.body()).contains("Too large");
        String chunk = Integer.toHexString(MEGABYTE) + "\r\n" + "a=" + "x".repeat(MEGABYTE - 2) + "\r\n0\r\n\r\n";
        assertThat(Wire.ask(
                                port,
                                "POST /sign-in",
                                List.of(
                                        "Content-Type: application/x-www-form-urlencoded",
                                        "Transfer-Encoding: chunked"),
                                chunk.getBytes(StandardCharsets.ISO_8859_1))
                        .status())
                .isEqualTo(413);
    }

    @Test
    void a_program_is_told_in_a_problem_document() throws Exception {
        String key = key();
        Wire.Answer encoding = Wire.ask(port, "GET /api/v1/bookings?from=%zz", key);
        assertThat(encoding.status()).isEqualTo(400);
        assertThat(encoding.header("Content-Type")).hasValue("application/problem+json");

        byte[] large = "[".repeat(300_000).getBytes(StandardCharsets.ISO_8859_1);
        for (String path : List.of("referrals", "appointments", "nothing")) {
            Wire.Answer answer =
                    Wire.ask(port, "POST /api/v1/" + path, List.of(key, "Content-Type: application/json"), large);
            assertThat(answer.status()).as(path).isEqualTo(413);
            assertThat(answer.body()).contains("\"code\":\"too-large\"", "256 KiB");
        }
        String chunk = Integer.toHexString(300_000) + "\r\n{\"reason\":\"" + "x".repeat(299_989) + "\r\n0\r\n\r\n";
        Wire.Answer chunked = Wire.ask(
                port,
                "POST /api/v1/referrals",
                List.of(key, "Content-Type: application/json", "Transfer-Encoding: chunked"),
                chunk.getBytes(StandardCharsets.ISO_8859_1));
        assertThat(chunked.status()).isEqualTo(413);
        assertThat(chunked.body()).contains("\"code\":\"too-large\"");
    }

    @ParameterizedTest
    @ValueSource(strings = {"//day", "/day;x", "/%zz", "/day/%2e%2e/x", "/nothing"})
    void whatever_is_refused_carries_the_headers_that_keep_a_browser_safe(String path) throws Exception {
        Wire.Answer answer = Wire.ask(port, "GET " + path);
        assertThat(answer.status()).isBetween(300, 499);
        assertThat(answer.header("Content-Security-Policy")).hasValue(ContentPolicy.DIRECTIVES);
        assertThat(answer.header("X-Content-Type-Options")).hasValue("nosniff");
        assertThat(answer.body()).doesNotContainIgnoringCase("tomcat");
    }

    @Test
    void a_verb_that_only_shows_the_request_is_refused_with_these_headers() throws Exception {
        Wire.Answer answer = Wire.ask(port, "TRACE /sign-in");
        assertThat(answer.status()).isBetween(400, 499);
        assertThat(answer.header("Content-Security-Policy")).isPresent();
        assertThat(answer.header("X-Content-Type-Options")).hasValue("nosniff");
    }

    @Test
    void only_names_of_this_machine_are_answered_unless_others_are_declared(CapturedOutput log) throws Exception {
        for (String host : List.of("127.0.0.1", "localhost", "LOCALHOST:80", "[::1]:8080")) {
            assertThat(Wire.ask(port, "GET /sign-in", "Host: " + host).status())
                    .as(host)
                    .isIn(200, 302);
        }
        for (String host : List.of("evil.example", "localhost.evil.example", "127.0.0.1.evil.example", "203.0.113.7")) {
            Wire.Answer answer = Wire.ask(port, "GET /", "Host: " + host);
            assertThat(answer.status()).as(host).isEqualTo(400);
            assertThat(answer.header("Location")).isEmpty();
        }
        assertThat(log.getAll()).contains("EARSLOT_WEB_HOSTS");
    }

    @Test
    void a_file_is_written_to_disk_only_for_a_lead_on_the_page_of_imports() throws Exception {
        ClinicId clinic = clinics.open().id();
        Visitor reception = Visitor.signIn(port, accountAdministration, clinic, Role.RECEPTIONIST, null);
        Visitor lead = Visitor.signIn(port, accountAdministration, clinic, Role.LEAD, null);
        String length = "Content-Length: " + 60 * MEGABYTE;
        String type = "Content-Type: multipart/form-data; boundary=x";
        byte[] begun = ("--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.csv\"\r\n\r\n"
                        + "a".repeat(MEGABYTE))
                .getBytes(StandardCharsets.ISO_8859_1);
        List<Path> before = filesOfTheContainer();
        for (String path : List.of("/import", "/sign-in", "/nothing", "/api/v1/openapi.json", "/styles/base.css")) {
            // The answer comes though most of what was announced was never sent: nothing waits for it.
            Wire.Answer answer = Wire.ask(port, "POST " + path, List.of(length, type), begun);
            assertThat(answer.status()).as(path).isIn(302, 401, 413);
        }
        Wire.Answer asReception =
                Wire.ask(port, "POST /import", List.of(length, type, "Cookie: " + reception.cookie()), begun);
        assertThat(asReception.status()).isEqualTo(403);
        Wire.Answer elsewhere =
                Wire.ask(port, "POST /referrals", List.of(length, type, "Cookie: " + lead.cookie()), begun);
        assertThat(elsewhere.status()).isEqualTo(413);
        Wire.Answer unknown = Wire.ask(
                port, "POST /sign-in", List.of(type, "Transfer-Encoding: chunked"), "5\r\n--x\r\n\r\n".getBytes());
        assertThat(unknown.status()).isEqualTo(411);
        assertThat(filesOfTheContainer()).isEqualTo(before);
    }

    private List<Path> filesOfTheContainer() throws IOException {
        TomcatWebServer server = (TomcatWebServer) application.getWebServer();
        Path work = server.getTomcat().getServer().getCatalinaBase().toPath();
        try (Stream<Path> files = Files.walk(work)) {
            return files.filter(Files::isRegularFile).sorted().toList();
        }
    }

    private Stream<String> paths() {
        return mappings.stream()
                .flatMap(mapping -> mapping.getHandlerMethods().keySet().stream())
                .filter(info -> info.getMethodsCondition().getMethods().contains(RequestMethod.POST))
                .flatMap(info -> info.getPatternValues().stream());
    }

    private List<String> formAddresses() {
        List<String> forms = Stream.concat(Stream.of("/sign-in", "/sign-out", "/nothing", "/actuator/health"), paths())
                .filter(path -> !path.startsWith("/api/"))
                .map(path -> path.replaceAll("\\{[^}]*}", "2026-03-03"))
                .distinct()
                .sorted()
                .toList();
        assertThat(forms).hasSizeGreaterThan(50);
        return forms;
    }

    private String key() {
        String name = "p" + UUID.randomUUID();
        String key = programs.admit(clinics.open().id(), name).orElseThrow();
        return "Authorization: Basic "
                + Base64.getEncoder().encodeToString((name + ":" + key).getBytes(StandardCharsets.UTF_8));
    }
}
