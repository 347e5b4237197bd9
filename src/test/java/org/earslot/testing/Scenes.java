package org.earslot.testing;

import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Component;
import org.springframework.test.web.servlet.MockMvc;

/** Opens scenes for {@link PageTest}s. */
@Component
public class Scenes {

    private final TestClinics clinics;
    private final ObjectProvider<MockMvc> mvc;

    Scenes(TestClinics clinics, ObjectProvider<MockMvc> mvc) {
        this.clinics = clinics;
        this.mvc = mvc;
    }

    public Scene open() {
        return new Scene(clinics.open(), mvc.getObject());
    }
}
