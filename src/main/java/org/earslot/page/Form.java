package org.earslot.page;

import jakarta.validation.ConstraintViolation;
import jakarta.validation.ValidatorFactory;
import java.beans.PropertyEditorSupport;
import java.lang.annotation.Annotation;
import java.lang.reflect.Method;
import java.lang.reflect.RecordComponent;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import org.earslot.ear.Word;
import org.hibernate.validator.constraints.Range;
import org.jspecify.annotations.Nullable;
import org.springframework.core.ResolvableType;
import org.springframework.validation.DataBinder;

/** A form that is read as records, bound by Spring and validated by Jakarta Validation. Blank is "not given". */
public final class Form extends Problems {

    private static final Map<Class<?>, Function<String, Object>> PARSERS = Map.of(
            LocalDate.class, LocalDate::parse,
            LocalTime.class, LocalTime::parse,
            Integer.class, Integer::valueOf,
            UUID.class, UUID::fromString);

    private final FormFields fields;
    private final ValidatorFactory validation;

    Form(FormFields fields, ValidatorFactory validation) {
        this.fields = fields;
        this.validation = validation;
    }

    /** The fields as they were typed. */
    public FormFields fields() {
        return fields;
    }

    /**
     * Adds a problem; what was given is not repeated.
     *
     * @param key of what is allowed; the remedy stands under the same key plus {@code .remedy}
     */
    public void problem(String field, String key, Object... arguments) {
        refuse(field, "", key, arguments);
    }

    /** Adds a problem with a field that must be filled in and is not, unless it has one already. */
    public void missing(String field, String key) {
        if (!wrong(field)) {
            problem(field, key);
        }
    }

    /**
     * Reads the fields that have the names of its components. What cannot be read is null in the record; what is read but
     * outside what is allowed is in it as typed, so look at {@link #clean} before using a value.
     */
    public <T extends Record> T read(Class<T> type) {
        return read(type, UnaryOperator.identity());
    }

    /** Likewise, for a form that is not shown again: refuses the request if anything is wrong. */
    public <T extends Record> T readOrRefuse(Class<T> type) {
        T record = read(type);
        refuseUnlessClean();
        return record;
    }

    /** Refuses the request if anything is wrong. */
    public void refuseUnlessClean() {
        if (!clean()) {
            throw Refused.invalid(problems());
        }
    }

    /**
     * Likewise some fields, as a record that takes null in every component.
     *
     * @param field the name of the field for that of a component
     */
    public <T extends Record> T read(Class<T> type, UnaryOperator<String> field) {
        DataBinder binder = new DataBinder(null);
        binder.setTargetType(ResolvableType.forClass(type));
        RecordComponent[] components = type.getRecordComponents();
        for (RecordComponent component : components) {
            Editor.of(component.getType())
                    .ifPresent(editor -> binder.registerCustomEditor(component.getType(), editor));
        }
        binder.construct(new Typed(field));
        T record = type.cast(Objects.requireNonNull(binder.getTarget()));
        Map<String, ConstraintViolation<T>> violations = validation.getValidator().validate(record).stream()
                .collect(Collectors.toMap(
                        violation -> violation.getPropertyPath().toString(),
                        Function.identity(),
                        (first, second) -> first));
        for (RecordComponent component : components) {
            String name = component.getName();
            ConstraintViolation<T> violation = violations.get(name);
            if (binder.getBindingResult().hasFieldErrors(name)) {
                unreadable(field.apply(name), component);
            } else if (violation != null) {
                violated(field.apply(name), component.getType(), violation);
            }
        }
        return record;
    }

    /** A word, a date or a number that is none, or out of its range. */
    private void unreadable(String field, RecordComponent component) {
        Method accessor = component.getAccessor();
        Class<?> type = component.getType();
        DateRange dates = accessor.getAnnotation(DateRange.class);
        Range numbers = accessor.getAnnotation(Range.class);
        if (dates != null) {
            outside(field, dates);
        } else if (numbers != null) {
            outside(field, numbers);
        } else if (type.getEnumConstants() instanceof Word[] words) {
            unknown(field, fields.get(field), words);
        } else {
            refuse(
                    field,
                    fields.get(field),
                    type == LocalTime.class ? "page.allowed.timeOfDay" : "page.allowed.storedId");
        }
    }

    private void violated(String field, Class<?> type, ConstraintViolation<?> violation) {
        Annotation constraint = violation.getConstraintDescriptor().getAnnotation();
        if (constraint instanceof DateRange dates) {
            outside(field, dates);
        } else if (constraint instanceof Range numbers) {
            outside(field, numbers);
        } else if (constraint instanceof PlainText text) {
            int length = fields.get(field).strip().length();
            problem(field, key(violation), String.valueOf(text.max()), String.valueOf(length));
        } else {
            problem(field, key(violation), codes(type));
        }
    }

    /** Of a word what it may be; empty for anything else. */
    private static String codes(Class<?> type) {
        return type.getEnumConstants() instanceof Word[] words ? String.join(", ", Word.codes(words)) : "";
    }

    private void outside(String field, DateRange dates) {
        LocalDate today = LocalDate.now(validation.getClockProvider().getClock());
        refuse(
                field,
                dates.personal() ? "" : fields.get(field),
                "page.allowed.dates",
                DateRange.Validator.date(dates.from(), today).toString(),
                DateRange.Validator.date(dates.to(), today).toString());
    }

    private void outside(String field, Range numbers) {
        refuse(
                field,
                fields.get(field),
                "page.allowed.wholeBetween",
                String.valueOf(numbers.min()),
                String.valueOf(numbers.max()));
    }

    /** The key in braces that a constraint names. */
    private static String key(ConstraintViolation<?> violation) {
        return violation.getMessageTemplate().replaceAll("[{}]", "");
    }

    /** Hands the binder what was typed. */
    private final class Typed implements DataBinder.ValueResolver {

        private final UnaryOperator<String> field;

        Typed(UnaryOperator<String> field) {
            this.field = field;
        }

        @Override
        public @Nullable Object resolveValue(String name, Class<?> type) {
            String text = fields.get(field.apply(name)).strip();
            if (type == boolean.class) {
                return !text.isEmpty();
            }
            return text.isEmpty() ? null : text;
        }

        @Override
        public Set<String> getNames() {
            return Set.of();
        }
    }

    /** Reads the text of one type as forms and programs write it, and nothing else. */
    private static final class Editor extends PropertyEditorSupport {

        private final Function<String, Object> parse;

        private Editor(Function<String, Object> parse) {
            this.parse = parse;
        }

        static Optional<Editor> of(Class<?> type) {
            if (type.getEnumConstants() instanceof Word[] words) {
                return Optional.of(new Editor(code -> Word.find(words, code).orElseThrow()));
            }
            return Optional.ofNullable(PARSERS.get(type)).map(Editor::new);
        }

        @Override
        public void setAsText(String text) {
            try {
                setValue(parse.apply(text));
            } catch (DateTimeParseException | NoSuchElementException e) {
                throw new IllegalArgumentException(e);
            }
        }
    }
}
