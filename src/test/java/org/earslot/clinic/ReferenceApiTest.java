package org.earslot.clinic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsInAnyOrder;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.hasSize;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import org.earslot.ear.Caution;
import org.earslot.referral.RedFlag;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.ResultActions;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What other programs refer to by name or by code. */
@PageTest
class ReferenceApiTest {

    @Autowired
    private Scenes scenes;

    private Scene scene;

    @BeforeEach
    void a_clinic() {
        scene = scenes.open();
    }

    @Test
    void lists_practitioners_and_rooms_of_the_own_clinic() throws Exception {
        ask("/practitioners")
                .andExpect(jsonPath("$[*].name", containsInAnyOrder("P1", "P2")))
                .andExpect(jsonPath("$[1].methods", containsInAnyOrder("microsuction")))
                .andExpect(jsonPath("$[0].id").value(scene.clinic().p1().toString()));
        ask("/rooms").andExpect(jsonPath("$[*].name", containsInAnyOrder("R1", "R2")));
    }

    @Test
    void lists_the_sessions_of_some_days() throws Exception {
        ask("/sessions?from=2026-03-04&to=2026-03-05")
                .andExpect(jsonPath("$", hasSize(4)))
                .andExpect(jsonPath("$[0].from").value("2026-03-04T09:00:00"))
                .andExpect(jsonPath("$[0].breakFrom").value("13:00:00"));
        scene.program().reads("/api/v1/sessions?from=2026-03-04&to=2026-12-05").andExpect(status().isBadRequest());
        scene.program().reads("/api/v1/sessions?from=soon").andExpect(status().isBadRequest());
    }

    @Test
    void tells_the_policy() throws Exception {
        ask("/policy")
                .andExpect(jsonPath("$.gridMinutes").isNumber())
                .andExpect(jsonPath("$.turnaroundMinutes.microsuction").isNumber());
    }

    @Test
    void tells_every_code_with_a_text() throws Exception {
        String answer = ask("/vocabulary")
                .andExpect(jsonPath("$.redFlags", hasSize(RedFlag.values().length)))
                .andExpect(jsonPath("$.cautions", hasSize(Caution.values().length)))
                .andExpect(jsonPath("$.methods[*].code", hasItem("manual_removal")))
                .andReturn()
                .getResponse()
                .getContentAsString();
        for (JsonNode list : JsonMapper.shared().readTree(answer)) {
            for (JsonNode term : list) {
                assertThat(term.path("text").stringValue())
                        .as(term.toString())
                        .isNotBlank()
                        .doesNotContain("." + term.path("code").stringValue());
            }
        }
    }

    private ResultActions ask(String path) throws Exception {
        return scene.program().reads("/api/v1" + path).andExpect(status().isOk());
    }
}
