package org.earslot.testing;

import org.earslot.clinic.ClinicId;
import org.earslot.testing.TestClinics.TestClinic;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.MockMvcRequestBuilders;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.test.web.servlet.result.MockMvcResultMatchers;

/** A new clinic and those who ask something of it: {@code scene.lead().reads("/setup")}. */
public record Scene(TestClinic clinic, MockMvc mvc) {

    public ClinicId clinicId() {
        return clinic.id();
    }

    public Asker receptionist() {
        return new Asker(mvc, SignedIn.receptionist(clinic.id()));
    }

    /** The first practitioner. */
    public Asker practitioner() {
        return new Asker(mvc, SignedIn.practitioner(clinic.id(), clinic.p1()));
    }

    public Asker lead() {
        return new Asker(mvc, SignedIn.lead(clinic.id()));
    }

    /** A program, for paths below /api/v1. */
    public Asker program() {
        return new Asker(mvc, SignedIn.program(clinic.id()));
    }

    /** Somebody who is signed in, or a program. */
    public record Asker(MockMvc mvc, RequestPostProcessor who) {

        public ResultActions reads(String path) throws Exception {
            return sends(MockMvcRequestBuilders.get(path));
        }

        /** The page, once it is certain that it was shown. */
        public String page(String path) throws Exception {
            return reads(path)
                    .andExpect(MockMvcResultMatchers.status().isOk())
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
        }

        /**
         * Sends a form of the page.
         *
         * @param fields name, value, name, value ...; a name may come several times
         */
        public ResultActions sendsForm(String path, String... fields) throws Exception {
            MockHttpServletRequestBuilder form = MockMvcRequestBuilders.post(path);
            for (int i = 0; i < fields.length; i += 2) {
                form.param(fields[i], fields[i + 1]);
            }
            return sends(form.with(SecurityMockMvcRequestPostProcessors.csrf()));
        }

        public ResultActions sends(MockHttpServletRequestBuilder request) throws Exception {
            return mvc.perform(request.with(who));
        }
    }
}
