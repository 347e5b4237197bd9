package org.earslot.unchanged;

import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.request;

import java.io.UnsupportedEncodingException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.OnH2;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.ApplicationRunner;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.context.annotation.Primary;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.context.ActiveProfiles;
import org.springframework.test.context.TestContextManager;
import org.springframework.test.context.TestPropertySource;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/**
 * The demo clinic at a fixed moment, loaded with the same ids at each start, asked through its addresses. Nothing runs of
 * itself.
 */
@SpringBootTest
@AutoConfigureMockMvc
@OnH2
@ActiveProfiles("demo")
@Import(DemoProgram.FixedMoment.class)
@TestPropertySource(
        properties = {
            "earslot.fits.every=PT24H",
            "earslot.fits.after-import=PT24H",
            "earslot.dayclosing.every=PT24H",
            "logging.level.root=WARN",
            "spring.main.banner-mode=off"
        })
class DemoProgram {

    /** A Tuesday morning in the middle of its lists. */
    static final Instant MOMENT = Instant.parse("2026-03-03T11:20:00Z");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private SettableClock clock;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private JdbcTemplate database;

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    /** In place of the system's clock; what the demo's ids begin with is fixed too. */
    @TestConfiguration
    static class FixedMoment {
        @Bean
        @Primary
        SettableClock fixedMoment() {
            return new SettableClock(MOMENT);
        }

        @Bean
        @Order(Ordered.HIGHEST_PRECEDENCE)
        ApplicationRunner sameIds() {
            return arguments -> SeededRandomness.begin("demo");
        }
    }

    static DemoProgram started() throws Exception {
        DemoProgram program = new DemoProgram();
        new TestContextManager(DemoProgram.class).prepareTestInstance(program);
        return program;
    }

    void at(Instant moment) {
        clock.set(moment);
    }

    ClinicId clinic() {
        return new ClinicId(database.queryForObject("select id from clinic", UUID.class));
    }

    Map<String, RequestPostProcessor> people() {
        UUID practitioner = database.queryForObject(
                "select id from practitioner where clinic_id = ? order by name limit 1", UUID.class, clinic().value());
        Map<String, RequestPostProcessor> people = new LinkedHashMap<>();
        people.put("receptionist", SignedIn.receptionist(clinic()));
        people.put("practitioner", SignedIn.practitioner(clinic(), practitioner));
        people.put("lead", SignedIn.lead(clinic()));
        return people;
    }

    RequestPostProcessor program() {
        return SignedIn.program(clinic());
    }

    /** A second clinic; after it, this is no longer the demo alone. */
    TestClinics.TestClinic emptyClinic() {
        return clinics.open();
    }

    Collection<RequestMappingInfoHandlerMapping> mappings() {
        return mappings;
    }

    MockMvc mvc() {
        return mvc;
    }

    MockHttpServletResponse read(RequestPostProcessor who, String address) throws Exception {
        return mvc.perform(get(URI.create(address)).with(who)).andReturn().getResponse();
    }

    /** The text of an answer that must be 200. */
    String readAll(RequestPostProcessor who, String address) throws Exception {
        return text(read(who, address), address);
    }

    MockHttpServletResponse send(HttpMethod method, String address, String json) throws Exception {
        return mvc.perform(request(method, URI.create(address))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(json)
                        .with(program()))
                .andReturn()
                .getResponse();
    }

    static String body(MockHttpServletResponse answer) throws UnsupportedEncodingException {
        return answer.getContentAsString(StandardCharsets.UTF_8);
    }

    static String text(MockHttpServletResponse answer, String address) throws UnsupportedEncodingException {
        String text = body(answer);
        if (answer.getStatus() >= 300) {
            throw new IllegalStateException(address + " answers " + answer.getStatus() + ": " + text);
        }
        return text;
    }
}
