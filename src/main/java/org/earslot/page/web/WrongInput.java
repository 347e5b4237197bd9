package org.earslot.page.web;

import jakarta.validation.ConstraintViolationException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.stereotype.Component;
import org.springframework.validation.BindException;
import org.springframework.validation.BindingResult;
import org.springframework.validation.FieldError;
import org.springframework.validation.ObjectError;
import org.springframework.validation.method.ParameterValidationResult;
import org.springframework.web.bind.MethodArgumentNotValidException;
import org.springframework.web.bind.MissingRequestHeaderException;
import org.springframework.web.bind.MissingServletRequestParameterException;
import org.springframework.web.method.annotation.HandlerMethodValidationException;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;
import org.springframework.web.multipart.support.MissingServletRequestPartException;
import tools.jackson.core.JacksonException;
import tools.jackson.core.exc.StreamReadException;
import tools.jackson.databind.exc.InvalidNullException;
import tools.jackson.databind.exc.MismatchedInputException;
import tools.jackson.databind.exc.PropertyBindingException;

/** Names every field that cannot be read, what it may be, and the remedy; repeats a text never, it might be a name. */
@Component
class WrongInput {

    private final Messages messages;

    WrongInput(Messages messages) {
        this.messages = messages;
    }

    Optional<Refusal> of(Throwable thrown) {
        if (thrown instanceof HttpMessageNotReadableException unreadable) {
            return Optional.of(unreadable(unreadable));
        }
        List<Problem> problems = problems(thrown);
        return problems.isEmpty()
                ? Optional.empty()
                : Optional.of(new Refusal(400, "invalid", messages.say("page.error.invalid.detail"), problems));
    }

    private static List<Problem> problems(Throwable thrown) {
        if (thrown instanceof MethodArgumentNotValidException invalid) {
            return bound(invalid.getBindingResult());
        } else if (thrown instanceof BindException invalid) {
            return bound(invalid.getBindingResult());
        } else if (thrown instanceof HandlerMethodValidationException invalid) {
            return parameters(invalid);
        } else if (thrown instanceof ConstraintViolationException invalid) {
            return violations(invalid);
        } else if (thrown instanceof MethodArgumentTypeMismatchException mismatch) {
            return List.of(
                    remedied(mismatch.getName(), mismatch.getValue(), AllowedValues.of(mismatch.getRequiredType())));
        } else if (thrown instanceof MissingServletRequestParameterException missing) {
            return List.of(missing(missing.getParameterName()));
        } else if (thrown instanceof MissingRequestHeaderException missing) {
            return List.of(missing(missing.getHeaderName()));
        } else if (thrown instanceof MissingServletRequestPartException missing) {
            return List.of(missing(missing.getRequestPartName()));
        }
        return List.of();
    }

    private static List<Problem> bound(BindingResult result) {
        List<Problem> problems = new ArrayList<>();
        for (ObjectError error : result.getAllErrors()) {
            boolean field = error instanceof FieldError;
            String name = field ? ((FieldError) error).getField() : error.getObjectName();
            Object given = field ? ((FieldError) error).getRejectedValue() : null;
            boolean unreadable = field && ((FieldError) error).isBindingFailure();
            MessageSourceResolvable may = unreadable ? AllowedValues.of(result.getFieldType(name)) : plain(error);
            problems.add(remedied(name, given, may));
        }
        return problems;
    }

    private static List<Problem> parameters(HandlerMethodValidationException invalid) {
        List<Problem> problems = new ArrayList<>();
        for (ParameterValidationResult result : invalid.getParameterValidationResults()) {
            String name = result.getMethodParameter().getParameterName();
            for (MessageSourceResolvable error : result.getResolvableErrors()) {
                problems.add(remedied(
                        error instanceof FieldError field ? field.getField() : String.valueOf(name),
                        result.getArgument(),
                        plain(error)));
            }
        }
        return problems;
    }

    private static List<Problem> violations(ConstraintViolationException invalid) {
        return invalid.getConstraintViolations().stream()
                .map(violation -> remedied(
                        StreamSupport.stream(violation.getPropertyPath().spliterator(), false)
                                .reduce((first, last) -> last)
                                .map(Object::toString)
                                .orElse(""),
                        violation.getInvalidValue(),
                        said(violation.getMessage())))
                .toList();
    }

    private Refusal unreadable(HttpMessageNotReadableException unreadable) {
        Throwable cause = unreadable.getCause();
        String detail = messages.say("page.error.invalid.detail");
        if (cause instanceof PropertyBindingException unknown) {
            return new Refusal(
                    400,
                    "invalid",
                    detail,
                    List.of(new Problem(path(unknown), "", known(unknown), Messages.text("page.remedy.unknownField"))));
        }
        if (cause instanceof InvalidNullException none) {
            return new Refusal(
                    400,
                    "invalid",
                    detail,
                    List.of(new Problem(
                            path(none),
                            "",
                            Messages.text("page.allowed.notNull"),
                            Messages.text("page.remedy.unknownField"))));
        }
        if (cause instanceof MismatchedInputException mismatch) {
            return new Refusal(
                    400,
                    "invalid",
                    detail,
                    List.of(remedied(path(mismatch), null, AllowedValues.of(mismatch.getTargetType()))));
        }
        if (cause instanceof StreamReadException broken && broken.getLocation() != null) {
            return new Refusal(
                    400,
                    "unreadable",
                    messages.say(
                            "page.error.unreadableAt.detail",
                            broken.getLocation().getLineNr(),
                            broken.getLocation().getColumnNr()));
        }
        return new Refusal(400, "unreadable", messages.say("page.error.unreadable.detail"));
    }

    private static MessageSourceResolvable known(PropertyBindingException unknown) {
        Collection<Object> known = unknown.getKnownPropertyIds();
        return known == null
                ? Messages.text("page.allowed.knownField")
                : Messages.text(
                        "page.allowed.fields",
                        known.stream().map(String::valueOf).sorted().collect(Collectors.joining(", ")));
    }

    private static String path(JacksonException mismatch) {
        String path = mismatch.getPath().stream()
                .map(step ->
                        step.getPropertyName() == null ? "[" + step.getIndex() + "]" : "." + step.getPropertyName())
                .collect(Collectors.joining());
        return path.startsWith(".") ? path.substring(1) : path;
    }

    private static Problem missing(String name) {
        return new Problem(name, "", Messages.text("page.allowed.present"), Messages.text("page.remedy.add"));
    }

    private static Problem remedied(String field, @Nullable Object given, MessageSourceResolvable allowed) {
        boolean harmless = given instanceof Number || given instanceof Boolean;
        return new Problem(field, harmless ? String.valueOf(given) : "", allowed, Messages.text("page.remedy.correct"));
    }

    private static MessageSourceResolvable plain(MessageSourceResolvable error) {
        return said(Optional.ofNullable(error.getDefaultMessage()).orElse(""));
    }

    /** A text that Jakarta Validation has said already. */
    private static MessageSourceResolvable said(String text) {
        return Messages.text("page.said", text);
    }
}
