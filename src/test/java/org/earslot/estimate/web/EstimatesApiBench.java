package org.earslot.estimate.web;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Base64;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import org.earslot.Earslot;
import org.earslot.account.Programs;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Word;
import org.earslot.estimate.Fits;
import org.earslot.estimate.InventedLog;
import org.earslot.invented.InventedVisit;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jspecify.annotations.Nullable;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import tools.jackson.databind.json.JsonMapper;

/**
 * How long 1,000 different visits take by the interface for programs, over HTTP, with reasons and questions, after a fit
 * on 2,500 visits. Aim: 1.5 s.
 *
 * <p>{@code mvn -Pbench test-compile exec:exec -Dbench=org.earslot.estimate.web.EstimatesApiBench}; {@code
 * -Dbench.args=quick} for one measurement.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(value = 1, jvmArgs = "-Xmx1g")
@Warmup(iterations = 5)
@Measurement(iterations = 7)
public class EstimatesApiBench {

    private static final int PAST = 2_500;
    private static final int ASKED = 1_000;

    private final HttpClient client = HttpClient.newHttpClient();
    private @Nullable ConfigurableApplicationContext app;
    private @Nullable HttpRequest request;

    @Setup
    public void aClinicWithAFit() {
        ConfigurableApplicationContext started = SpringApplication.run(
                Earslot.class,
                "--server.port=0",
                "--spring.main.banner-mode=off",
                "--logging.level.root=WARN",
                "--spring.datasource.url=jdbc:h2:mem:" + UUID.randomUUID() + ";DB_CLOSE_DELAY=-1",
                "--spring.datasource.username=sa",
                "--spring.datasource.password=");
        app = started;
        TestClinic clinic = started.getBean(TestClinics.class).open();
        List<InventedVisit> log = started.getBean(InventedLog.class).keep(clinic, 71, PAST);
        started.getBean(Fits.class).fit(clinic.id());
        String key = started.getBean(Programs.class).admit(clinic.id(), "bench").orElseThrow();
        List<Map<String, Object>> visits = new ArrayList<>();
        for (int i = 0; i < ASKED; i++) {
            visits.add(visit(log.get(log.size() - ASKED + i), i));
        }
        String port = started.getEnvironment().getProperty("local.server.port");
        request = HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/api/v1/estimates"))
                .header("Authorization", "Basic " + basic("bench", key))
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString(JsonMapper.shared().writeValueAsString(visits)))
                .build();
    }

    private static String basic(String name, String key) {
        return Base64.getEncoder().encodeToString((name + ":" + key).getBytes(StandardCharsets.UTF_8));
    }

    private static Map<String, Object> visit(InventedVisit visit, int number) {
        InventedVisit.Told told = visit.told();
        Map<String, Object> asked = new LinkedHashMap<>();
        // No two are equal: equal ones would be worked out once.
        asked.put("patientRef", "N" + number);
        asked.put("practitioner", told.practitioner() == 0 ? "P1" : "P2");
        asked.put("method", told.method().code());
        asked.put("ears", told.ears().each().stream().map(Ear::code).toList());
        asked.put("firstVisit", told.firstVisit());
        asked.put("softenerDays", told.softenerDays());
        Map<String, Object> reported = new LinkedHashMap<>();
        told.reported().forEach((ear, findings) -> reported.put(ear.code(), findings(findings)));
        asked.put("reported", reported);
        return asked;
    }

    private static Map<String, String> findings(EarFindings findings) {
        Map<String, String> said = new LinkedHashMap<>();
        put(said, "wax", findings.wax());
        put(said, "canal", findings.canal());
        put(said, "depth", findings.depth());
        return said;
    }

    private static void put(Map<String, String> said, String factor, @Nullable Word word) {
        if (word != null) {
            said.put(factor, word.code());
        }
    }

    @Benchmark
    public int aThousandVisits() throws IOException, InterruptedException {
        HttpResponse<String> response =
                client.send(Objects.requireNonNull(request), HttpResponse.BodyHandlers.ofString());
        if (response.statusCode() != 200) {
            throw new IllegalStateException(response.statusCode() + ": " + response.body());
        }
        return response.body().length();
    }

    @TearDown
    public void stop() {
        Objects.requireNonNull(app).close();
    }

    public static void main(String[] arguments) throws RunnerException {
        ChainedOptionsBuilder options = new OptionsBuilder().include(EstimatesApiBench.class.getName() + "\\.");
        if (List.of(arguments).contains("quick")) {
            options.warmupIterations(1).measurementIterations(1);
        }
        new Runner(options.build()).run();
    }
}
