package org.earslot.page;

import jakarta.validation.ValidatorFactory;
import org.springframework.stereotype.Component;

/** Reads forms, and bodies of programs, as records. */
@Component
public class Forms {

    private final ValidatorFactory validation;
    private final Messages messages;

    public Forms(ValidatorFactory validation, Messages messages) {
        this.validation = validation;
        this.messages = messages;
    }

    /** A form to be read. */
    public Form of(FormFields fields) {
        return new Form(fields, validation, messages);
    }
}
