package org.earslot.page;

import jakarta.validation.Constraint;
import jakarta.validation.ConstraintValidator;
import jakarta.validation.ConstraintValidatorContext;
import jakarta.validation.Payload;
import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.jspecify.annotations.Nullable;

/** Text without control characters, by default of one line; null is allowed. */
@Documented
@Constraint(validatedBy = PlainText.Validator.class)
@Target({ElementType.FIELD, ElementType.METHOD, ElementType.PARAMETER})
@Retention(RetentionPolicy.RUNTIME)
public @interface PlainText {

    /** How many characters it may have. */
    int max();

    /** Whether it may run over several lines. */
    boolean lines() default false;

    /** The key of what is allowed. */
    String message() default "{page.allowed.line}";

    /** Groups of constraints. */
    Class<?>[] groups() default {};

    /** Payload for clients. */
    Class<? extends Payload>[] payload() default {};

    /** Checks the length first. */
    class Validator implements ConstraintValidator<PlainText, @Nullable String> {

        private int max;
        private boolean lines;

        @Override
        public void initialize(PlainText text) {
            max = text.max();
            lines = text.lines();
        }

        @Override
        public boolean isValid(@Nullable String text, ConstraintValidatorContext context) {
            if (text == null) {
                return true;
            }
            context.disableDefaultConstraintViolation();
            if (text.length() > max) {
                context.buildConstraintViolationWithTemplate("{page.allowed.longest}")
                        .addConstraintViolation();
                return false;
            }
            if (lines ? !Reading.isText(text) : !Reading.isLine(text)) {
                context.buildConstraintViolationWithTemplate(lines ? "{page.allowed.lines}" : "{page.allowed.line}")
                        .addConstraintViolation();
                return false;
            }
            return true;
        }
    }
}
