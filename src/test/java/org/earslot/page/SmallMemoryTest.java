package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.earslot.Earslot;
import org.earslot.account.Programs;
import org.earslot.testing.Forked;
import org.earslot.testing.TestClinics;
import org.earslot.testing.Wire;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;

/** A server with 256 MB of heap goes on answering whatever size of nonsense a program sends. */
@Timeout(240)
class SmallMemoryTest {

    private static final int KILOBYTE = 1000;

    @Test
    void bodies_full_of_wrong_words_are_refused_and_the_server_goes_on() throws Exception {
        try (Forked server = Forked.start(List.of("-Xmx256m", "-XX:+ExitOnOutOfMemoryError"), Server.class)) {
            String[] told = server.await("listening ").split(" ");
            server.ignoreOutput();
            int port = Integer.parseInt(told[0]);
            List<String> headers = List.of("Content-Type: application/json", "Authorization: Basic " + told[1]);

            for (int size : new int[] {4_000 * KILOBYTE, 10_000 * KILOBYTE}) {
                for (String path : List.of("/api/v1/estimates", "/api/v1/referrals", "/api/v1/appointments")) {
                    Wire.Answer answer = Wire.ask(port, "POST " + path, headers, wrongCautions(size));
                    assertThat(answer.status()).as("%s of %s bytes", path, size).isEqualTo(413);
                    assertThat(answer.body()).contains("too-large");
                }
            }
            List<byte[]> justAllowed = List.of(
                    wrongCautions(1_000 * KILOBYTE),
                    wrongVisits(2_000 * KILOBYTE),
                    "[".repeat(2_000 * KILOBYTE).getBytes(StandardCharsets.UTF_8));
            for (byte[] body : justAllowed) {
                assertThat(Wire.ask(port, "POST /api/v1/estimates", headers, body)
                                .status())
                        .isIn(400, 413);
            }
            assertThat(Wire.ask(port, "POST /api/v1/referrals", headers, wrongCautions(250 * KILOBYTE))
                            .status())
                    .isEqualTo(400);
            allAtOnce(port, headers, wrongVisits(2_000 * KILOBYTE));

            assertThat(server.isAlive()).isTrue();
            Wire.Answer health = Wire.ask(port, "GET /actuator/health");
            assertThat(health.status()).isEqualTo(200);
            assertThat(health.body()).contains("UP");
            assertThat(Wire.ask(
                                    port,
                                    "POST /api/v1/estimates",
                                    headers,
                                    "{\"method\":\"irrigation\",\"ears\":[\"right\"]}".getBytes(StandardCharsets.UTF_8))
                            .status())
                    .isEqualTo(200);
        }
    }

    private static void allAtOnce(int port, List<String> headers, byte[] body) throws Exception {
        ExecutorService senders = Executors.newFixedThreadPool(8);
        try {
            List<Future<Wire.Answer>> answers = new ArrayList<>();
            for (int i = 0; i < 16; i++) {
                answers.add(senders.submit(() -> Wire.ask(port, "POST /api/v1/estimates", headers, body)));
            }
            for (Future<Wire.Answer> answer : answers) {
                assertThat(answer.get().status()).isIn(400, 413, 503);
            }
        } finally {
            senders.shutdownNow();
        }
    }

    private static byte[] wrongCautions(int size) {
        String start = "{\"method\":\"irrigation\",\"ears\":[\"right\"],\"cautions\":[";
        return (start + "\"x\",".repeat((size - start.length() - 5) / 4) + "\"x\"]}").getBytes(StandardCharsets.UTF_8);
    }

    /** As many objects as may be asked about, as large as fits, everything in them wrong. */
    private static byte[] wrongVisits(int size) {
        String visit = "{\"method\":\"x\",\"ears\":[\"x\",\"y\"],\"cautions\":[" + "\"x\",".repeat(20)
                + "\"x\"],\"reported\":{\"right\":{\"wax\":\"x\",\"canal\":\"x\",\"depth\":\"x\"}},\"referrer\":\"";
        String filled = visit + "x".repeat(size / 1000 - visit.length() - 4) + "\"}";
        return ("[" + (filled + ",").repeat(999) + filled + "]").getBytes(StandardCharsets.UTF_8);
    }

    /** The program itself with a clinic and a key. */
    static final class Server {

        public static void main(String[] arguments) {
            OutOfMemory.endsTheProcess();
            ConfigurableApplicationContext application = SpringApplication.run(
                    Earslot.class, "--server.port=0", "--spring.datasource.url=jdbc:h2:mem:small;DB_CLOSE_DELAY=-1");
            String key = application
                    .getBean(Programs.class)
                    .admit(application.getBean(TestClinics.class).open().id(), "p")
                    .orElseThrow();
            String credentials = Base64.getEncoder().encodeToString(("p:" + key).getBytes(StandardCharsets.UTF_8));
            System.out.println(
                    "listening " + application.getEnvironment().getProperty("local.server.port") + " " + credentials);
        }
    }
}
