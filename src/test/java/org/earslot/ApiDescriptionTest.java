package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.earslot.ear.Caution;
import org.earslot.ear.Word;
import org.earslot.exchange.BookingColumn;
import org.earslot.exchange.VisitColumn;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The description of the interface says what every field, error and key is, and its examples are as it says. */
@PageTest
class ApiDescriptionTest {

    private static final List<String> ROOTS = List.of(
            "ReferralBody",
            "TakenInBody",
            "SlotsBody",
            "BookBody",
            "AppointmentBody",
            "AppointmentChange",
            "ClockBody",
            "FindingsBody",
            "Day",
            "PractitionerBody",
            "RoomBody",
            "SessionBody",
            "PolicyBody",
            "Term",
            "Problem");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    private JsonNode api;

    @BeforeEach
    void the_description() throws Exception {
        api = JsonMapper.shared()
                .readTree(mvc.perform(get("/api/v1/openapi.json")
                                .with(SignedIn.program(clinics.open().id())))
                        .andExpect(status().isOk())
                        .andReturn()
                        .getResponse()
                        .getContentAsString());
    }

    @Test
    void describes_the_key() {
        assertThat(api.path("security").get(0).has("key")).isTrue();
        JsonNode scheme = api.path("components").path("securitySchemes").path("key");
        assertThat(scheme.path("scheme").stringValue()).isEqualTo("basic");
    }

    @Test
    void describes_the_errors_of_every_address() {
        for (JsonNode path : api.path("paths")) {
            for (JsonNode operation : path) {
                assertThat(operation.path("responses").propertyNames())
                        .as(operation.path("operationId").stringValue())
                        .contains("400", "401", "404", "503");
            }
        }
        JsonNode post = api.path("paths").path("/api/v1/referrals").path("post");
        assertThat(post.path("responses").propertyNames()).contains("409", "422");
        assertThat(post.path("parameters").get(0).path("name").stringValue()).isEqualTo("Idempotency-Key");
    }

    /** Of all but the numbers of the monthly review, which are explained on its page. */
    @Test
    void describes_every_field_of_referrals_appointments_days_and_lists() {
        Set<String> described = new TreeSet<>();
        Set<String> undescribed = new TreeSet<>();
        for (String root : ROOTS) {
            walk(root, described, undescribed);
        }
        assertThat(described).containsAll(ROOTS);
        assertThat(undescribed).isEmpty();
    }

    private void walk(String name, Set<String> walked, Set<String> undescribed) {
        JsonNode fields = api.path("components").path("schemas").path(name).path("properties");
        if (fields.isEmpty() || !walked.add(name)) {
            return;
        }
        for (String field : fields.propertyNames()) {
            JsonNode schema = fields.path(field);
            if (!schema.has("description") && !schema.has("$ref")) {
                undescribed.add(name + "." + field);
            }
            for (JsonNode of : List.of(schema, schema.path("items"), schema.path("additionalProperties"))) {
                if (of.has("$ref")) {
                    walk(of.path("$ref").stringValue().replaceAll(".*/", ""), walked, undescribed);
                }
            }
        }
    }

    @Test
    void lists_the_columns_of_the_files() {
        JsonNode visit = rows("/api/v1/visit-log");
        assertThat(visit.path("properties").propertyNames()).containsExactlyElementsOf(VisitColumn.headings());
        assertThat(texts(visit.path("required"))).hasSameElementsAs(VisitColumn.requiredHeadings());
        assertThat(texts(visit.path("properties").path("ears").path("enum"))).containsExactly("right", "left", "both");
        assertThat(visit.path("properties").path("date").path("format").stringValue())
                .isEqualTo("date");
        String methods =
                visit.path("properties").path("left_methods").path("pattern").stringValue();
        assertThat(List.of("", "microsuction", "microsuction;irrigation", "irrigation;irrigation"))
                .allMatch(cell -> cell.matches(methods));
        assertThat(List.of("hook", "irrigation;", "irrigation microsuction")).noneMatch(cell -> cell.matches(methods));
        JsonNode booking = rows("/api/v1/bookings");
        assertThat(booking.path("properties").propertyNames()).containsExactlyElementsOf(BookingColumn.headings());
        assertThat(texts(booking.path("required"))).hasSameElementsAs(BookingColumn.requiredHeadings());
    }

    private JsonNode rows(String path) {
        return api.path("paths")
                .path(path)
                .path("post")
                .path("requestBody")
                .path("content")
                .path("text/csv")
                .path("schema")
                .path("items");
    }

    private static List<String> texts(JsonNode array) {
        List<String> texts = new ArrayList<>();
        array.forEach(text -> texts.add(text.stringValue()));
        return texts;
    }

    @Test
    void lists_the_codes_of_a_field() {
        JsonNode cautions = api.path("components")
                .path("schemas")
                .path("ReferralBody")
                .path("properties")
                .path("cautions")
                .path("items")
                .path("enum");
        assertThat(cautions.valueStream().map(JsonNode::stringValue))
                .containsExactlyElementsOf(Word.codes(Caution.values()));
    }

    @Test
    void gives_examples_that_are_as_it_says() {
        List<String> wrong = new ArrayList<>();
        int examples = 0;
        for (JsonNode path : api.path("paths")) {
            for (JsonNode operation : path) {
                JsonNode content = operation.path("requestBody").path("content").path("application/json");
                if (content.has("example")) {
                    examples++;
                    check(
                            content.path("example"),
                            content.path("schema"),
                            operation.path("operationId").stringValue(),
                            wrong);
                }
            }
        }
        assertThat(examples).isEqualTo(5);
        assertThat(wrong).isEmpty();
    }

    /** A schema of JSON as far as the description uses it: references, objects, maps, lists, types and codes. */
    private void check(JsonNode value, JsonNode schema, String at, List<String> wrong) {
        if (schema.has("$ref")) {
            String name = schema.path("$ref").stringValue().replaceAll(".*/", "");
            check(value, api.path("components").path("schemas").path(name), at, wrong);
            return;
        }
        if (value.isNull()) {
            return;
        }
        boolean sound = switch (schema.path("type").stringValue()) {
            case "object" -> value.isObject();
            case "array" -> value.isArray();
            case "boolean" -> value.isBoolean();
            case "integer" -> value.isIntegralNumber();
            case "number" -> value.isNumber();
            default -> value.isString();
        };
        boolean code = !schema.has("enum") || schema.path("enum").valueStream().anyMatch(value::equals);
        if (!sound || !code) {
            wrong.add(at + ": " + value);
        }
        for (JsonNode element : value.isArray() ? value : List.<JsonNode>of()) {
            check(element, schema.path("items"), at + "[]", wrong);
        }
        for (String field : value.propertyNames()) {
            JsonNode of = schema.path("properties").has(field)
                    ? schema.path("properties").path(field)
                    : schema.path("additionalProperties");
            if (of.isMissingNode()) {
                wrong.add(at + "." + field + " is not described");
            } else {
                check(value.path(field), of, at + "." + field, wrong);
            }
        }
    }
}
