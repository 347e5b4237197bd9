package org.earslot.estimate.web;

import io.swagger.v3.oas.annotations.Operation;
import java.io.IOException;
import java.io.InputStream;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.page.Busy;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.StreamReadConstraints;
import tools.jackson.core.exc.StreamConstraintsException;
import tools.jackson.core.json.JsonFactory;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Estimates for programs: one visit, or an array of them. */
@RestController
@RequestMapping(path = "/api/v1/estimates", produces = MediaType.APPLICATION_JSON_VALUE)
class EstimatesApi {

    private static final int MOST = 1_000;

    /** 1,000 visits with every field at its longest are 1.6 MiB. */
    private static final int MOST_BYTES = 2 * 1024 * 1024;

    /** A visit with every field has about 90 tokens; a body of nothing but tiny ones would fill the memory. */
    private static final long MOST_TOKENS = 250_000;

    /** So many bodies are read and worked out at a time. */
    private static final int AT_ONCE = 4;

    private static final Duration TRY_AGAIN = Duration.ofSeconds(3);
    private static final JsonFactory COUNTING = JsonFactory.builder()
            .streamReadConstraints(
                    StreamReadConstraints.builder().maxTokenCount(MOST_TOKENS).build())
            .build();

    private final Estimates estimates;
    private final Practitioners practitioners;
    private final CurrentClinic clinic;
    private final Messages messages;
    private final JsonMapper json;
    private final Semaphore places = new Semaphore(AT_ONCE);

    EstimatesApi(
            Estimates estimates,
            Practitioners practitioners,
            CurrentClinic clinic,
            Messages messages,
            JsonMapper json) {
        this.estimates = estimates;
        this.practitioners = practitioners;
        this.clinic = clinic;
        this.messages = messages;
        this.json = json;
    }

    @Operation(summary = "api.summary.estimates")
    @PostMapping(consumes = MediaType.APPLICATION_JSON_VALUE)
    Object estimate(InputStream body) throws IOException, InterruptedException {
        byte[] bytes = bytes(body);
        if (!places.tryAcquire(TRY_AGAIN.toSeconds(), TimeUnit.SECONDS)) {
            throw new Busy("estimate.busy", TRY_AGAIN);
        }
        try {
            return estimate(parsed(bytes));
        } finally {
            places.release();
        }
    }

    private Object estimate(JsonNode asked) {
        boolean many = asked.isArray();
        if (many && asked.size() > MOST) {
            throw Refused.invalid(List.of())
                    .at("body", String.valueOf(asked.size()), "estimate.api.tooMany", MOST + "");
        }
        PlanReader reader = new PlanReader(practitionersByName());
        List<VisitPlan> plans = new ArrayList<>();
        for (int i = 0; i < (many ? asked.size() : 1) && !reader.full(); i++) {
            reader.read(many ? asked.get(i) : asked, many ? "[" + i + "]" : "").ifPresent(plans::add);
        }
        if (!reader.problems().isEmpty()) {
            throw Refused.invalid(reader.problems());
        }
        List<Estimate> made = estimates.estimateAll(clinic.id(), plans);
        List<EstimateAnswer> answers = made.parallelStream()
                .map(estimate -> EstimateAnswer.of(estimate, messages))
                .toList();
        return many ? answers : answers.get(0);
    }

    private static byte[] bytes(InputStream body) throws IOException {
        byte[] bytes = body.readNBytes(MOST_BYTES + 1);
        if (bytes.length > MOST_BYTES) {
            throw new Refused(413, "too-large", "estimate.api.tooLarge");
        }
        return bytes;
    }

    private JsonNode parsed(byte[] bytes) {
        try {
            countTokens(bytes);
            return json.readTree(bytes);
        } catch (StreamConstraintsException e) {
            throw new Refused(413, "too-large", "estimate.api.tooDeep");
        } catch (JacksonException e) {
            String where = e.getLocation() == null
                    ? ""
                    : e.getLocation().getLineNr() + ":" + e.getLocation().getColumnNr();
            throw Refused.invalid(List.of()).at("body", where, "estimate.api.noJson");
        }
    }

    /** Reads to the end before anything is stored of what was read. */
    private static void countTokens(byte[] bytes) {
        try (JsonParser parser = COUNTING.createParser(ObjectReadContext.empty(), bytes)) {
            while (parser.nextToken() != null) {
                // The parser counts, and refuses to go on where there are too many.
            }
        }
    }

    private Map<String, UUID> practitionersByName() {
        return practitioners.findByClinicIdOrderByName(clinic.id()).stream()
                .collect(Collectors.toMap(Practitioner::name, Practitioner::id));
    }
}
