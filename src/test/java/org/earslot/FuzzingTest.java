package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.request;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.io.UnsupportedEncodingException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.earslot.testing.Mutations;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;
import tools.jackson.databind.json.JsonMapper;

/**
 * Valid bodies and forms with some things changed at random, thousands of them to every address: whatever comes, it is
 * the sender's mistake or it is taken, and never the program's failure. The seed is fixed; a failure names the body.
 */
@PageTest
class FuzzingTest {

    private static final long SEED = 20_261_130;
    private static final int BODIES = 20_000;
    private static final int FORMS = 10_000;
    private static final int FAULTS_TOLD = 20;
    private static final Pattern VARIABLE = Pattern.compile("\\{(?:\\*)?(\\w+)[^/]*}");

    private static final String REFERRAL = """
            {"patientRef":"F0001","familyName":"Fernbrook","givenName":"Tilda","dateOfBirth":"1961-05-04",
             "contact":"01632 960001","contactPermission":true,"preferredRoute":"call","interpreter":"none",
             "referrer":"Invented Practice","receivedOn":"2026-03-02","reason":"blocked","priority":"routine",
             "method":"microsuction","ears":["right","left"],"firstVisit":true,"hearingAid":false,"cautionsAsked":true,
             "cautions":["tinnitus"],"cautionDetails":{"tinnitus":{"ear":"right","since":"2020-01-01"}},
             "softenerDays":5,"notBefore":"2026-03-10","lastTime":"well","redFlags":{"sudden_loss_recent":false,"head_injury":false},
             "reported":{"right":{"wax":"hard","canal":"narrow","depth":"deep_canal","occlusion":"occluding"}},
             "cautionsNotKnown":["perforation"],"origin":"referral","shortNotice":true}""";
    /** What the bodies say of the patient, and what is made of it below. */
    private static final List<String> DETAILS =
            List.of("fernbrook", "tilda", "1961-05", "1861-05", "2961-05", "01632 96", "f0001");

    private static final String ESTIMATES = """
            [{"patientRef":"F0001","practitioner":"P1","method":"microsuction","ears":["right","left"],
              "firstVisit":true,"hearingAid":false,"cautions":["tinnitus"],"softenerDays":5,"referrer":"x",
              "reported":{"right":{"wax":"hard","canal":"narrow","depth":"deep_canal","occlusion":"occluding"},"left":{}}},
             {"method":"irrigation","ears":["left"]}]""";
    private static final String CHANGE = """
            {"start":"2026-03-04T14:00","slotMinutes":"30","status":null,"confirmed":null,"cancelledBy":null,"reason":null,"shorter":true,"beyondLimit":true}""";
    private static final String CLOCK = "{\"event\":\"arrived\",\"at\":\"2026-03-04T08:55\"}";
    private static final String FINDINGS = """
            {"right":{"methods":["microsuction"],"wax":"hard","canal":"narrow","depth":"deep_canal","occlusion":"occluding",
              "outcome":"clear"},
             "stoppedEarly":"no","note":"a note"}""";
    private static final String CSV = """
            visit_id,patient_ref,date,practitioner,room,attendance,method_planned,ears,booked_start,slot_minutes
            V1,K1,2026-03-02,P1,R1,no_show,microsuction,both,09:00,20
            """;
    private static final String BOOKINGS_CSV = """
            booking_id,patient_ref,date,start,slot_minutes,practitioner,room,method_planned,ears,status
            B1,K1,2026-03-05,10:00,20,P1,R1,microsuction,both,booked
            """;

    /** A word that no page has, words of the trade, times of the fixture, and what nobody should write. */
    private static final List<String> WRITTEN = List.of(
            "",
            " ",
            "x",
            "-1",
            "0",
            "1",
            "20",
            "30",
            "true",
            "on",
            "yes",
            "no",
            "not_known",
            "right",
            "left",
            "both",
            "microsuction",
            "irrigation",
            "manual_removal",
            "tinnitus",
            "patient",
            "clinic",
            "09:00",
            "11:30",
            "24:00",
            "2026-03-04",
            "2026-03-04T10:00",
            "2026-02-30",
            "9999-12-31",
            "+999999999-12-31",
            "-0001-01-01",
            "P1",
            "R1",
            "99999999999999999999",
            "-2147483648",
            "1e400",
            "NaN",
            "Infinity",
            "0x1p3",
            "\u0000",
            "a\u0000b",
            "\uD800",
            "\u202Eabc",
            "\r\nSet-Cookie: a=b",
            "<script>alert(1)</script>",
            "'; drop table patient; --",
            "%zz",
            "${7*7}",
            "../../etc",
            "null",
            "[]",
            "{}",
            "\uFEFF",
            "٣",
            "１２",
            "x".repeat(5_000),
            ";;;;",
            ",,,",
            "=1+1");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private SettableClock clock;

    private final Random random = new Random(SEED);
    private final Map<String, String> faults = new TreeMap<>();
    private final Map<Integer, Integer> answers = new TreeMap<>();
    private final Set<Address> done = new HashSet<>();
    private TestClinic clinic;
    private Referral referral;
    private UUID appointment;
    private UUID seen;
    private UUID toMove;
    private Referral notBooked;
    private String session;

    private record Address(HttpMethod verb, String pattern) {}

    @BeforeEach
    void a_clinic_with_a_patient_and_an_appointment() throws Exception {
        clinic = clinics.open();
        referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        session = session();
        appointment = fixture.appointment(clinic, DiaryFixture.WEDNESDAY.atTime(9, 0), 30);
        toMove = fixture.appointment(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30);
        notBooked = fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT);
        seen = fixture.appointment(clinic, DiaryFixture.WEDNESDAY.atTime(9, 30), 30);
        clock.set(Instant.parse("2026-03-04T09:50:00Z"));
        for (Map.Entry<String, String> event : List.of(
                Map.entry("arrived", "09:25"), Map.entry("called_in", "09:30"), Map.entry("finished", "09:48"))) {
            mvc.perform(post("/api/v1/appointments/" + seen + "/clock")
                            .contentType(MediaType.APPLICATION_JSON)
                            .content("{\"event\":\"" + event.getKey() + "\",\"at\":\"2026-03-04T" + event.getValue()
                                    + "\"}")
                            .with(SignedIn.program(clinic.id())))
                    .andExpect(status().isOk());
        }
    }

    /** The name of the first practitioner's session on Wednesday, as an offer gives it. */
    private String session() throws Exception {
        String offers = mvc.perform(get("/api/v1/slots")
                        .queryParam("referral", referral.id().toString())
                        .queryParam("practitioner", "P1")
                        .queryParam("from", DiaryFixture.WEDNESDAY.toString())
                        .queryParam("to", DiaryFixture.WEDNESDAY.toString())
                        .with(SignedIn.program(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(offers).as("offers").contains("\"session\"");
        return JsonMapper.shared().readTree(offers).findValue("session").stringValue();
    }

    @Test
    void no_body_of_a_program_breaks_anything() {
        List<Address> addresses = addresses(true);
        assertThat(addresses).hasSizeGreaterThan(12);
        Mutations mutations = new Mutations(random);
        RequestPostProcessor program = SignedIn.program(clinic.id());
        for (int i = 0; i < BODIES; i++) {
            Address address = addresses.get(i % addresses.size());
            MockHttpServletRequestBuilder request = request(address.verb(), path(address));
            byte[] body = new byte[0];
            if (address.verb() == HttpMethod.GET || random.nextInt(20) == 0) {
                query(request);
            }
            if (address.verb() != HttpMethod.GET) {
                boolean csv = address.pattern().equals("/api/v1/visit-log")
                        || address.pattern().equals("/api/v1/bookings");
                body = csv
                        ? mutations.ofText(address.pattern().equals("/api/v1/bookings") ? BOOKINGS_CSV : CSV)
                        : mutations.ofJson(example(address));
                request.contentType(csv ? "text/csv" : MediaType.APPLICATION_JSON_VALUE)
                        .content(body);
            }
            if (address.verb() == HttpMethod.PATCH && random.nextInt(4) > 0) {
                request.header("If-Match", "\"" + random.nextInt(3) + "\"");
            } else if (random.nextInt(10) == 0) {
                request.header("If-Match", written().replaceAll("[^\\x20-\\x7e]", "?"));
            }
            if (random.nextInt(10) == 0) {
                request.header("Idempotency-Key", written().replaceAll("[^\\x20-\\x7e]", "?"));
            }
            ask(address, request.with(program), new String(body, StandardCharsets.UTF_8));
        }
        assertThat(faults.values()).as("by status: %s", answers).isEmpty();
        // What is sent is near enough to what is right that some goes in everywhere, and far enough that most does not.
        assertThat(addresses.stream().filter(address -> !done.contains(address)))
                .as("addresses where nothing went in; by status: %s", answers)
                .isEmpty();
        assertThat(answers.getOrDefault(400, 0)).isGreaterThan(BODIES / 5);
    }

    /** Each detail of the patient in turn, in every way in which it can be wrong. */
    @Test
    void no_detail_of_a_patient_is_repeated_in_a_refusal() throws Exception {
        List<String> texts = List.of(
                "\"Fernbrook\\u0000\"",
                "\"Tilda\\u202e\"",
                "\"" + "Fernbrook ".repeat(500) + "\"",
                "[\"Fernbrook\"]",
                "{\"Fernbrook\":\"Tilda\"}",
                "[[\"01632 960001\"]]");
        List<String> dates = List.of("\"1961-05-99\"", "\"1861-05-04\"", "\"2961-05-04\"", "\"Tilda\"", "[1961,5,4]");
        for (String field : List.of("patientRef", "familyName", "givenName", "dateOfBirth", "contact", "reason")) {
            for (String wrong : field.equals("dateOfBirth") ? dates : texts) {
                String body = REFERRAL.replaceFirst(
                        "\"" + field + "\":\"[^\"]*\"", Matcher.quoteReplacement("\"" + field + "\":" + wrong));
                MockHttpServletResponse answer = mvc.perform(post("/api/v1/referrals")
                                .contentType(MediaType.APPLICATION_JSON)
                                .content(body)
                                .with(SignedIn.program(clinic.id())))
                        .andReturn()
                        .getResponse();
                assertThat(answer.getStatus()).as("%s: %s", field, wrong).isBetween(400, 499);
                assertThat(wrongRefusal(answer)).as("%s: %s", field, wrong).isNull();
            }
        }
    }

    @Test
    void no_form_breaks_anything() throws Exception {
        List<Address> addresses = addresses(false);
        assertThat(addresses).hasSizeGreaterThan(60);
        List<String> fields = List.copyOf(EveryFormTest.fields());
        List<RequestPostProcessor> askers = List.of(
                SignedIn.lead(clinic.id()),
                SignedIn.practitioner(clinic.id(), clinic.p1()),
                SignedIn.receptionist(clinic.id()));
        for (int i = 0; i < FORMS; i++) {
            Address address = addresses.get(i % addresses.size());
            MockHttpServletRequestBuilder request = post(path(address)).with(csrf());
            StringBuilder sent = new StringBuilder();
            for (int left = random.nextInt(30); left > 0; left--) {
                String field = fields.get(random.nextInt(fields.size()));
                String value = written();
                request.param(field, value);
                sent.append(field).append('=').append(value).append('&');
            }
            if (random.nextInt(4) == 0) {
                request.header("HX-Request", "true");
            }
            int asker = random.nextInt(askers.size() + 1);
            ask(address, asker == askers.size() ? request : request.with(askers.get(asker)), sent.toString());
        }
        assertThat(faults.values()).as("by status: %s", answers).isEmpty();
        assertThat(answers.getOrDefault(302, 0)).isGreaterThan(FORMS / 20);
    }

    private String example(Address address) {
        String pattern = address.pattern();
        if (pattern.endsWith("/clock")) {
            return CLOCK;
        } else if (pattern.endsWith("/findings")) {
            return FINDINGS;
        } else if (pattern.endsWith("/estimates")) {
            return ESTIMATES;
        } else if (pattern.endsWith("/appointments")) {
            return "{\"referral\":\"" + referral.id() + "\",\"session\":\"" + session
                    + "\",\"start\":\"2026-03-04T11:00\",\"slotMinutes\":\"60\",\"shorter\":true}";
        } else if (pattern.contains("/appointments")) {
            return "{\"session\":\"" + session + "\"," + CHANGE.substring(1);
        }
        return REFERRAL;
    }

    private void query(MockHttpServletRequestBuilder request) {
        for (String name :
                List.of("from", "to", "referral", "practitioner", "part", "dryRun", "page", "idempotencyKey")) {
            if (random.nextInt(4) == 0) {
                request.queryParam(
                        name,
                        name.equals("referral") && random.nextInt(5) > 0
                                ? notBooked.id().toString()
                                : written());
            }
        }
    }

    private String written() {
        return switch (random.nextInt(12)) {
            case 0 -> referral.id().toString();
            case 1 -> appointment.toString();
            case 2 -> clinic.p1().toString();
            case 3 -> UUID.randomUUID().toString();
            default -> WRITTEN.get(random.nextInt(WRITTEN.size()));
        };
    }

    private UUID subject(Address address) {
        if (address.verb() == HttpMethod.PATCH) {
            return toMove;
        } else if (address.pattern().endsWith("/findings")) {
            return seen;
        } else if (address.pattern().contains("appointments")) {
            return appointment;
        }
        return address.pattern().contains("patients") ? referral.patientId() : referral.id();
    }

    private String path(Address address) {
        String id = subject(address).toString();
        return VARIABLE.matcher(address.pattern().replace("/**", "")).replaceAll(found -> {
            if (random.nextInt(15) == 0) {
                return "x";
            }
            return switch (found.group(1)) {
                case "id" -> id;
                case "date" -> DiaryFixture.WEDNESDAY.toString();
                case "month" -> "2026-02";
                case "caution" -> "tinnitus";
                case "method" -> "microsuction";
                case "ear" -> "right";
                default -> UUID.randomUUID().toString();
            };
        });
    }

    private void ask(Address address, MockHttpServletRequestBuilder request, String sent) {
        String fault = null;
        try {
            MockHttpServletResponse answer = mvc.perform(request).andReturn().getResponse();
            answers.merge(answer.getStatus(), 1, Integer::sum);
            if (answer.getStatus() < 300) {
                done.add(address);
            }
            if (answer.getStatus() >= 500 && answer.getStatus() != 503) {
                fault = "answered with " + answer.getStatus();
            } else if (address.pattern().startsWith("/api/") && answer.getStatus() >= 400) {
                fault = wrongRefusal(answer);
            }
        } catch (Exception e) {
            Throwable cause = e.getCause() == null ? e : e.getCause();
            fault = cause.getClass().getSimpleName() + " " + cause.getStackTrace()[0];
        }
        if (fault != null && faults.size() < FAULTS_TOLD) {
            String shown = sent.length() > 600 ? sent.substring(0, 600) + "…" : sent;
            faults.putIfAbsent(address + fault, address + ": " + fault + " for " + shown);
        }
    }

    /** What is wrong with a refusal to a program; null if it is a problem document that repeats no detail of a patient. */
    private static @Nullable String wrongRefusal(MockHttpServletResponse answer) throws UnsupportedEncodingException {
        String body = answer.getContentAsString(StandardCharsets.UTF_8);
        Optional<String> repeated =
                DETAILS.stream().filter(body.toLowerCase(Locale.ROOT)::contains).findFirst();
        if (repeated.isPresent()) {
            return "repeats " + repeated.get();
        }
        boolean document = MediaType.APPLICATION_PROBLEM_JSON_VALUE.equals(answer.getContentType());
        return document && JsonMapper.shared().readTree(body).path("status").asInt() == answer.getStatus()
                ? null
                : "answered " + answer.getStatus() + " without a problem document: " + answer.getContentType();
    }

    private List<Address> addresses(boolean ofPrograms) {
        List<Address> addresses = new ArrayList<>();
        for (RequestMappingInfoHandlerMapping mapping : mappings) {
            for (RequestMappingInfo offered : mapping.getHandlerMethods().keySet()) {
                for (String pattern : offered.getPatternValues()) {
                    for (RequestMethod verb : offered.getMethodsCondition().getMethods()) {
                        boolean wanted = pattern.startsWith("/api/") == ofPrograms
                                && (ofPrograms || verb == RequestMethod.POST)
                                && !STREAMS_AND_FITS.contains(pattern)
                                && !pattern.contains("/trouble");
                        if (wanted) {
                            addresses.add(new Address(verb.asHttpMethod(), pattern));
                        }
                    }
                }
            }
        }
        addresses.sort(java.util.Comparator.comparing(Address::toString));
        return addresses;
    }

    private static final Set<String> STREAMS_AND_FITS =
            Set.of("/api/v1/estimator/fit", "/estimator/fit", "/api/v1/openapi.json");
}
