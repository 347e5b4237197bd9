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
import java.time.LocalDate;
import java.time.Period;
import org.jspecify.annotations.Nullable;

/** A date between two others, both included; null is allowed. */
@Documented
@Constraint(validatedBy = DateRange.Validator.class)
@Target({ElementType.FIELD, ElementType.METHOD, ElementType.PARAMETER})
@Retention(RetentionPolicy.RUNTIME)
public @interface DateRange {

    /** The first date: itself, as in 2000-01-01, or counted from today in the clinic, as in -P1Y. */
    String from();

    /** The last date, likewise; P0D is today. */
    String to();

    /** Whether it is a patient's detail, which no message repeats. */
    boolean personal() default false;

    /** The key of what is allowed: the first date and the last are its arguments. */
    String message() default "{page.allowed.dates}";

    /** Groups of constraints. */
    Class<?>[] groups() default {};

    /** Payload for clients. */
    Class<? extends Payload>[] payload() default {};

    /** Counts from the date of the validator's clock. */
    class Validator implements ConstraintValidator<DateRange, @Nullable LocalDate> {

        private String from = "";
        private String to = "";

        @Override
        public void initialize(DateRange range) {
            from = range.from();
            to = range.to();
        }

        @Override
        public boolean isValid(@Nullable LocalDate date, ConstraintValidatorContext context) {
            if (date == null) {
                return true;
            }
            LocalDate today = LocalDate.now(context.getClockProvider().getClock());
            return !date.isBefore(date(from, today)) && !date.isAfter(date(to, today));
        }

        /** The date that {@code bound} stands for on {@code today}. */
        static LocalDate date(String bound, LocalDate today) {
            return bound.contains("P") ? today.plus(Period.parse(bound)) : LocalDate.parse(bound);
        }
    }
}
