package org.earslot.unchanged;

import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.account.SignedInUser;
import org.earslot.testing.OfferedAddress;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.jspecify.annotations.Nullable;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;

/**
 * Every address with its conditions, and who is let in when asked: a visitor, each person, each kind of program. Asked in
 * an empty clinic, where answers are quick.
 */
final class WhoIsLetIn {

    private final DemoProgram demo;
    private final Map<String, RequestPostProcessor> askers = new LinkedHashMap<>();

    WhoIsLetIn(DemoProgram demo) {
        this.demo = demo;
        TestClinics.TestClinic clinic = demo.emptyClinic();
        askers.put("receptionist", SignedIn.receptionist(clinic.id()));
        askers.put("practitioner", SignedIn.practitioner(clinic.id(), clinic.p1()));
        askers.put("lead", SignedIn.lead(clinic.id()));
        askers.put("program", SignedIn.program(clinic.id()));
        askers.put("reader", SignedIn.as(new SignedInUser.Program(clinic.id(), "reader", false)));
    }

    void addTo(Recording recording) throws Exception {
        Map<String, String> lines = new TreeMap<>();
        for (OfferedAddress address : OfferedAddress.all(demo.mappings())) {
            RequestMappingInfo offered = address.offered();
            String place = address
                    + conditions("params", offered.getParamsCondition())
                    + conditions("headers", offered.getHeadersCondition())
                    + conditions("consumes", offered.getConsumesCondition())
                    + conditions("produces", offered.getProducesCondition());
            if (lines.put(place, letIn(address)) != null) {
                throw new IllegalStateException("offered twice: " + place);
            }
        }
        lines.forEach(recording::add);
    }

    private static String conditions(String kind, Object condition) {
        String text = condition.toString();
        return text.equals("[]") ? "" : ", " + kind + " " + text;
    }

    private String letIn(OfferedAddress address) throws Exception {
        StringBuilder text = new StringBuilder();
        if (!refused(address, null)) {
            text.append("visitor ");
        }
        for (var asker : askers.entrySet()) {
            if (!refused(address, asker.getValue())) {
                text.append(asker.getKey()).append(' ');
            }
        }
        return text.toString().strip();
    }

    private boolean refused(OfferedAddress address, @Nullable RequestPostProcessor asker) throws Exception {
        MockHttpServletRequestBuilder request = address.bare().with(csrf());
        MockHttpServletResponse answer = demo.mvc()
                .perform(asker == null ? request : request.with(asker))
                .andReturn()
                .getResponse();
        return List.of(401, 403).contains(answer.getStatus())
                || String.valueOf(answer.getRedirectedUrl()).startsWith("/sign-in");
    }
}
