package org.earslot.estimate.web;

import io.swagger.v3.oas.annotations.Operation;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.context.MessageSource;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Estimates for programs: one visit, or an array of them. */
@RestController
@RequestMapping(path = "/api/v1/estimates", produces = MediaType.APPLICATION_JSON_VALUE)
class EstimatesApi {

    private static final int MOST = 1_000;
    private static final int MOST_BYTES = 4 * 1024 * 1024;

    private final Estimates estimates;
    private final Practitioners practitioners;
    private final CurrentClinic clinic;
    private final MessageSource messages;
    private final JsonMapper json;

    EstimatesApi(
            Estimates estimates,
            Practitioners practitioners,
            CurrentClinic clinic,
            MessageSource messages,
            JsonMapper json) {
        this.estimates = estimates;
        this.practitioners = practitioners;
        this.clinic = clinic;
        this.messages = messages;
        this.json = json;
    }

    @Operation(summary = "How long visits will take: one object, or an array of up to 1,000, answered in order")
    @PostMapping(consumes = MediaType.APPLICATION_JSON_VALUE)
    Object estimate(InputStream body) throws IOException {
        JsonNode asked = parsed(body);
        boolean many = asked.isArray();
        if (many && asked.size() > MOST) {
            throw Refused.invalid(List.of(new Problem(
                    "body", asked.size() + " visits", "an array of at most " + MOST, "Ask in several requests.")));
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

    private JsonNode parsed(InputStream body) throws IOException {
        byte[] bytes = body.readNBytes(MOST_BYTES + 1);
        if (bytes.length > MOST_BYTES) {
            throw new Refused(413, "too-large", "The body is larger than 4 MiB.", List.of());
        }
        try {
            return json.readTree(bytes);
        } catch (JacksonException e) {
            String where = e.getLocation() == null
                    ? ""
                    : "line " + e.getLocation().getLineNr() + ", column "
                            + e.getLocation().getColumnNr();
            throw Refused.invalid(List.of(new Problem(
                    "body", where, "JSON: an object or an array of objects", "Correct the JSON at that place.")));
        }
    }

    private Map<String, UUID> practitionersByName() {
        return practitioners.findByClinicIdOrderByName(clinic.id()).stream()
                .collect(Collectors.toMap(Practitioner::name, Practitioner::id));
    }
}
