package org.earslot.page;

import jakarta.validation.ValidatorFactory;
import org.springframework.stereotype.Component;

/** Reads forms, and bodies of programs, as records. */
@Component
public class Forms {

    private final ValidatorFactory validation;

    public Forms(ValidatorFactory validation) {
        this.validation = validation;
    }

    /** A form to be read. */
    public Form of(FormFields fields) {
        return new Form(fields, validation);
    }
}
