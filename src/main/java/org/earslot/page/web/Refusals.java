package org.earslot.page.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.apache.tomcat.util.http.InvalidParameterException;
import org.earslot.page.BrokenConstraint;
import org.earslot.page.Busy;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.dao.PessimisticLockingFailureException;
import org.springframework.http.HttpHeaders;
import org.springframework.security.web.firewall.RequestRejectedException;
import org.springframework.stereotype.Component;
import org.springframework.web.ErrorResponse;
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.multipart.MultipartException;

/** Turns what was thrown into what is answered; what nobody foresaw becomes a reference to the log. */
@Component
class Refusals {

    private static final Logger LOG = LoggerFactory.getLogger(Refusals.class);
    private static final int DEEPEST_CAUSE = 20;

    private final WrongInput input;
    private final Messages messages;
    private final FailureLog failures;

    Refusals(WrongInput input, Messages messages, FailureLog failures) {
        this.input = input;
        this.messages = messages;
        this.failures = failures;
    }

    Refusal of(Throwable thrown, HttpServletRequest request) {
        return ours(thrown)
                .or(() -> container(thrown, request))
                .or(() -> input.of(thrown))
                .or(() -> storage(thrown, request))
                .or(() -> frameworks(thrown))
                .orElseGet(() -> unexpected(failures.keep(thrown, request)));
    }

    /** The answer to a bare status, as filters and the container give it. */
    Refusal ofStatus(int status) {
        return new Refusal(status, code(status), messages.say("page.error." + known(status) + ".detail"));
    }

    private Refusal unexpected(String reference) {
        return new Refusal(500, "unexpected", messages.say("page.error.500.detail")).knownAs(reference);
    }

    private Optional<Refusal> ours(Throwable thrown) {
        Optional<Refused> refused = causes(thrown)
                .filter(Refused.class::isInstance)
                .map(Refused.class::cast)
                .findFirst();
        if (refused.isPresent()) {
            Refused known = refused.get();
            return Optional.of(new Refusal(known.status(), known.code(), known.detail(messages), known.problems())
                    .saying(known.members()));
        }
        if (thrown instanceof Busy busy) {
            return Optional.of(new Refusal(503, "busy", messages.say(busy.messageKey()))
                    .with(retryAfter(busy.retryAfter().toSeconds())));
        }
        return Optional.empty();
    }

    /** Parameters that cannot be decoded, are too many or too large: the sender's doing, and known only to the container. */
    private Optional<Refusal> container(Throwable thrown, HttpServletRequest request) {
        return causes(thrown)
                .filter(InvalidParameterException.class::isInstance)
                .findFirst()
                .map(invalid -> {
                    int status = ((InvalidParameterException) invalid).getErrorCode() == 413 ? 413 : 400;
                    LOG.info(
                            "Refused with {} for its parameters: {} {}",
                            status,
                            request.getMethod(),
                            FailureLog.path(request));
                    return ofStatus(status);
                });
    }

    private static Stream<Throwable> causes(Throwable thrown) {
        return Stream.iterate(thrown, Objects::nonNull, Throwable::getCause).limit(DEEPEST_CAUSE);
    }

    private Optional<Refusal> storage(Throwable thrown, HttpServletRequest request) {
        if (thrown instanceof OptimisticLockingFailureException) {
            return Optional.of(
                    request.getHeader(HttpHeaders.IF_MATCH) == null
                            ? new Refusal(409, "changed-meanwhile", messages.say("page.error.409.detail"))
                            : new Refusal(412, "changed-meanwhile", messages.say("page.error.412.detail")));
        }
        if (thrown instanceof PessimisticLockingFailureException) {
            return Optional.of(new Refusal(503, "busy", messages.say("page.error.503.detail")).with(retryAfter(3)));
        }
        if (thrown instanceof DataIntegrityViolationException) {
            return refusedByDatabase(BrokenConstraint.of(thrown), failures.keep(thrown, request));
        }
        return Optional.empty();
    }

    private Optional<Refusal> refusedByDatabase(BrokenConstraint broken, String reference) {
        return switch (broken) {
            case BETWEEN_RECORDS ->
                Optional.of(
                        new Refusal(409, "conflict", messages.say("page.error.conflict.detail")).knownAs(reference));
            case ON_A_VALUE ->
                Optional.of(new Refusal(400, "invalid", messages.say("page.error.invalid.detail")).knownAs(reference));
            case NONE -> Optional.of(unexpected(reference));
        };
    }

    private Optional<Refusal> frameworks(Throwable thrown) {
        if (thrown instanceof MaxUploadSizeExceededException) {
            return Optional.of(ofStatus(413));
        }
        if (thrown instanceof MultipartException || thrown instanceof RequestRejectedException) {
            return Optional.of(ofStatus(400));
        }
        if (thrown instanceof ErrorResponse known && known.getStatusCode().value() < 500) {
            Refusal refusal = ofStatus(known.getStatusCode().value());
            return Optional.of(refusal.with(known.getHeaders()));
        }
        return Optional.empty();
    }

    private static HttpHeaders retryAfter(long seconds) {
        HttpHeaders headers = new HttpHeaders();
        headers.set(HttpHeaders.RETRY_AFTER, Long.toString(Math.max(1, seconds)));
        return headers;
    }

    private static int known(int status) {
        return List.of(400, 401, 403, 404, 405, 406, 409, 412, 413, 415, 500, 503)
                        .contains(status)
                ? status
                : status < 500 ? 400 : 500;
    }

    private static String code(int status) {
        return switch (status) {
            case 401 -> "not-signed-in";
            case 403 -> "not-allowed";
            case 404 -> "not-found";
            case 405 -> "wrong-verb";
            case 406, 415 -> "wrong-format";
            case 409, 412 -> "changed-meanwhile";
            case 413 -> "too-large";
            case 503 -> "busy";
            default -> status < 500 ? "invalid" : "unexpected";
        };
    }
}
