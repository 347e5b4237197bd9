package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.CookieManager;
import java.net.CookiePolicy;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.testing.OnH2;
import org.earslot.testing.TestClinics;
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
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.View;

/** What only a real server shows: the answers of filters and of the container, and forms kept over a failure. */
@SpringBootTest(
        webEnvironment = WebEnvironment.RANDOM_PORT,
        properties = {"spring.servlet.multipart.max-file-size=1KB", "spring.servlet.multipart.max-request-size=2KB"})
@OnH2
@Import(ServerAnswersTest.Troubles.class)
@ExtendWith(OutputCaptureExtension.class)
class ServerAnswersTest {

    private static final String PRIVATE = "Invented Patient";
    private static final String CHOSEN = "four unrelated words here";

    @LocalServerPort
    private int port;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private AccountAdministration accountAdministration;

    private HttpClient browser;

    @BeforeEach
    void a_receptionist_signs_in() throws Exception {
        browser = HttpClient.newBuilder()
                .cookieHandler(new CookieManager(null, CookiePolicy.ACCEPT_ALL))
                .followRedirects(HttpClient.Redirect.NEVER)
                .build();
        AccountAdministration.Handed handed = accountAdministration
                .admit(clinics.open().id(), "r" + UUID.randomUUID(), "Desk", Role.RECEPTIONIST, null)
                .orElseThrow();
        String signIn = get("/sign-in").body();
        HttpResponse<String> signedIn =
                post("/sign-in", signIn, "username", handed.signInName(), "password", handed.password());
        assertThat(signedIn.headers().firstValue("Set-Cookie").orElseThrow())
                .startsWith("earslot=")
                .contains("HttpOnly", "SameSite=Lax");
        post(
                "/password",
                get("/password").body(),
                "currentPassword",
                handed.password(),
                "newPassword",
                CHOSEN,
                "repeatedPassword",
                CHOSEN);
    }

    @Test
    void tell_a_program_without_a_key_how_to_sign_in() throws Exception {
        HttpResponse<String> answer = get("/api/v1/nothing");
        assertThat(answer.statusCode()).isEqualTo(401);
        assertThat(answer.headers().firstValue("WWW-Authenticate")).hasValue("Basic realm=\"earslot\"");
        assertThat(answer.headers().firstValue("Content-Type")).hasValue("application/problem+json");
        assertThat(answer.body()).contains("\"code\":\"not-signed-in\"", "\"status\":401");
    }

    @Test
    void tell_a_person_whose_role_does_not_reach_so_far() throws Exception {
        HttpResponse<String> answer = get("/accounts");
        assertThat(answer.statusCode()).isEqualTo(403);
        assertThat(answer.body()).contains("Not allowed", "HTTP status 403", "Sign out");
    }

    @Test
    void show_a_page_for_an_address_that_no_browser_sends() throws Exception {
        HttpResponse<String> answer = get("/day//x;y=1");
        assertThat(answer.statusCode()).isEqualTo(400);
        assertThat(answer.body()).contains("This could not be read").doesNotContain("Exception");
    }

    @Test
    void show_a_whole_page_when_another_fails_halfway(CapturedOutput log) throws Exception {
        HttpResponse<String> answer = get("/trouble/drawn");
        assertThat(answer.statusCode()).isEqualTo(500);
        assertThat(answer.body())
                .contains("Something went wrong", "</html>")
                .doesNotContain(PRIVATE)
                .doesNotContain("Exception");
        Matcher reference = Pattern.compile("<strong>(\\w{8})</strong>").matcher(answer.body());
        assertThat(reference.find()).isTrue();
        assertThat(log.getAll()).contains("Reference " + reference.group(1)).doesNotContain(PRIVATE);
        assertThat(answer.headers().firstValue("Content-Type")).hasValue("text/html;charset=UTF-8");
        assertThat(answer.headers().firstValue("Content-Disposition")).isEmpty();
        assertThat(answer.headers().firstValue("Cache-Control").orElse("")).contains("no-store");
        assertThat(answer.headers().firstValue("Content-Security-Policy")).isPresent();
    }

    @Test
    void keep_a_form_over_a_failure_until_it_is_sent_again() throws Exception {
        HttpResponse<String> failed =
                post("/trouble/entered", get("/password").body(), "name", PRIVATE, "password", "secret");
        assertThat(failed.statusCode()).isEqualTo(500);
        assertThat(failed.body())
                .contains("What you entered is stored", "Send it again")
                .doesNotContain(PRIVATE);
        assertThat(get("/entered").body()).contains(PRIVATE).doesNotContain("secret");

        HttpResponse<String> again = post("/entered", failed.body());
        assertThat(again.statusCode()).isEqualTo(200);
        assertThat(again.body()).isEqualTo("kept " + PRIVATE);
        assertThat(get("/entered").statusCode()).isEqualTo(404);
    }

    @Test
    void tell_that_a_file_is_too_large() throws Exception {
        String page = get("/password").body();
        assertThat(upload(page, 3000).statusCode()).isEqualTo(413);
        assertThat(upload(page, 1500).statusCode()).isEqualTo(413);
        assertThat(upload(page, 3000).body()).contains("Too large", "</html>");
        assertThat(upload(page, 500).body()).isEqualTo("500 bytes");
    }

    @Test
    void offer_styles_and_scripts_to_visitors() throws Exception {
        browser = HttpClient.newHttpClient();
        for (String path :
                new String[] {"/styles/base.css", "/scripts/page.js", "/mark.svg", "/webjars/htmx.org/dist/htmx.min.js"
                }) {
            assertThat(get(path).statusCode()).as(path).isEqualTo(200);
        }
        String page = get("/sign-in").body();
        assertIsKept(page, "href=\"(/styles/base-\\w{32}\\.css)\"");
        String script = assertIsKept(page, "<script type=\"module\" src=\"(/scripts/\\w{32}/page\\.js)\"");
        assertThat(get(script).body()).contains("from './press-queue.js'");
        assertThat(get(script.replace("page.js", "press-queue.js")).statusCode())
                .isEqualTo(200);
        assertThat(get("/application.yml").statusCode()).isEqualTo(302);
        assertThat(get("/styles/nothing.css").statusCode()).isEqualTo(404);
    }

    /** An address that changes with what it names, so that browsers may keep that. */
    private String assertIsKept(String page, String pattern) throws IOException, InterruptedException {
        Matcher address = Pattern.compile(pattern).matcher(page);
        assertThat(address.find()).as(pattern).isTrue();
        HttpResponse<String> kept = get(address.group(1));
        assertThat(kept.statusCode()).isEqualTo(200);
        assertThat(kept.headers().firstValue("Cache-Control")).hasValue("max-age=31536000");
        return address.group(1);
    }

    private HttpResponse<String> get(String path) throws IOException, InterruptedException {
        return browser.send(HttpRequest.newBuilder(address(path)).build(), BodyHandlers.ofString());
    }

    private HttpResponse<String> post(String path, String page, String... fields)
            throws IOException, InterruptedException {
        String body = Stream.iterate(0, i -> i < fields.length, i -> i + 2)
                .map(i -> fields[i] + "=" + URLEncoder.encode(fields[i + 1], StandardCharsets.UTF_8))
                .collect(Collectors.joining("&"));
        return browser.send(
                HttpRequest.newBuilder(address(path))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .POST(BodyPublishers.ofString("_csrf=" + token(page) + "&" + body))
                        .build(),
                BodyHandlers.ofString());
    }

    private HttpResponse<String> upload(String page, int bytes) throws IOException, InterruptedException {
        String part = "--x\r\nContent-Disposition: form-data; name=\"_csrf\"\r\n\r\n" + token(page)
                + "\r\n--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.csv\"\r\n\r\n"
                + "a".repeat(bytes) + "\r\n--x--\r\n";
        return browser.send(
                HttpRequest.newBuilder(address("/trouble/file"))
                        .header("Content-Type", "multipart/form-data; boundary=x")
                        .POST(BodyPublishers.ofString(part))
                        .build(),
                BodyHandlers.ofString());
    }

    private URI address(String path) {
        return URI.create("http://localhost:" + port + path);
    }

    private static String token(String page) {
        Matcher token =
                Pattern.compile("name=\"_csrf\" (?:content|value)=\"([^\"]+)\"").matcher(page);
        assertThat(token.find()).as("a token in the page").isTrue();
        return URLEncoder.encode(token.group(1), StandardCharsets.UTF_8);
    }

    /** Paths that fail where MockMvc does not look. */
    @Controller
    static class Troubles {

        private final AtomicBoolean failedBefore = new AtomicBoolean();

        @GetMapping("/trouble/drawn")
        View drawn() {
            return (model, request, response) -> {
                response.setContentType("text/csv");
                response.setHeader("Content-Disposition", "attachment");
                response.getWriter().write("half an answer");
                UUID.fromString(PRIVATE);
            };
        }

        @PostMapping("/trouble/entered")
        @ResponseBody
        String entered(@RequestParam String name) {
            if (!failedBefore.getAndSet(true)) {
                throw new IllegalStateException(PRIVATE);
            }
            return "kept " + name;
        }

        @PostMapping("/trouble/file")
        @ResponseBody
        String file(@RequestParam MultipartFile file) {
            return file.getSize() + " bytes";
        }
    }
}
