package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.util.List;
import org.earslot.testing.OnH2;
import org.earslot.testing.TestClinics;
import org.earslot.testing.Wire;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.SpringBootTest.WebEnvironment;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

/** Behind a declared proxy that speaks TLS to browsers, nothing goes in the clear. */
@SpringBootTest(
        webEnvironment = WebEnvironment.RANDOM_PORT,
        properties = {"earslot.web.proxies=127.0.0.1, 192.0.2.9", "earslot.web.hosts=clinic.example"})
@OnH2
@Import(BehindProxyTest.Seen.class)
class BehindProxyTest {

    @LocalServerPort
    private int port;

    @Autowired
    private TestClinics clinics;

    @BeforeEach
    void a_clinic() {
        clinics.open();
    }

    @Test
    void cookie_redirects_and_headers_are_those_of_tls_by_either_way_to_say_so() throws Exception {
        List<List<String>> ways = List.of(
                List.of("X-Forwarded-Proto: https", "X-Forwarded-Host: clinic.example", "X-Forwarded-For: 203.0.113.7"),
                List.of("Forwarded: for=203.0.113.7;proto=https;host=clinic.example"));
        for (List<String> way : ways) {
            Wire.Answer answer = Wire.ask(port, "GET /day", way, new byte[0]);
            assertThat(answer.status()).as("%s", way).isEqualTo(302);
            assertThat(answer.header("Location")).hasValue("https://clinic.example/sign-in");
            assertThat(answer.header("Strict-Transport-Security").orElse("")).contains("max-age=");
            assertThat(answer.header("Set-Cookie").orElse(""))
                    .startsWith("__Host-earslot=")
                    .contains("; Secure", "; HttpOnly", "; Path=/;", "SameSite=Lax")
                    .doesNotContain("Domain");
        }
    }

    @Test
    void only_what_the_proxy_itself_wrote_is_believed() throws Exception {
        assertThat(seen("X-Forwarded-For: 198.51.100.1, 203.0.113.7", "X-Forwarded-Proto: http, https"))
                .isEqualTo("203.0.113.7 https");
        assertThat(seen("X-Forwarded-For: 198.51.100.1", "X-Forwarded-For: 203.0.113.7, 192.0.2.9"))
                .isEqualTo("203.0.113.7 http");
        assertThat(seen("Forwarded: for=198.51.100.1;proto=http, for=203.0.113.7;proto=https"))
                .isEqualTo("203.0.113.7 https");
        assertThat(seen(
                        "Forwarded: for=198.51.100.1;proto=http",
                        "X-Forwarded-For: 203.0.113.7",
                        "X-Forwarded-Proto: https"))
                .isEqualTo("203.0.113.7 https");
        assertThat(Wire.ask(port, "GET /day", "X-Forwarded-Prefix: /elsewhere", "X-Forwarded-Proto: https")
                        .header("Location")
                        .orElse(""))
                .doesNotContain("elsewhere");
    }

    @Test
    void a_name_that_was_not_declared_is_refused_through_the_proxy_too() throws Exception {
        assertThat(Wire.ask(port, "GET /sign-in", "X-Forwarded-Host: evil.example")
                        .status())
                .isEqualTo(400);
        assertThat(Wire.ask(port, "GET /day", "Host: clinic.example").status()).isEqualTo(302);
    }

    private String seen(String... headers) throws IOException {
        return Wire.ask(port, "GET /webjars/seen", headers)
                .body()
                .lines()
                .findFirst()
                .orElse("");
    }

    /** Says what the program takes a request for; below a path that is open to all. */
    @RestController
    static class Seen {
        @GetMapping("/webjars/seen")
        String seen(HttpServletRequest request) {
            return request.getRemoteAddr() + " " + request.getScheme();
        }
    }
}
