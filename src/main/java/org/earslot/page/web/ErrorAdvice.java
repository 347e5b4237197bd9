package org.earslot.page.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.apache.catalina.connector.ClientAbortException;
import org.jspecify.annotations.Nullable;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.core.AuthenticationException;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.context.request.async.AsyncRequestNotUsableException;

/** Answers whatever is thrown while a request is handled. */
@ControllerAdvice
@Order(Ordered.LOWEST_PRECEDENCE)
class ErrorAdvice {

    private final Refusals refusals;
    private final ErrorAnswers answers;

    ErrorAdvice(Refusals refusals, ErrorAnswers answers) {
        this.refusals = refusals;
        this.answers = answers;
    }

    @ExceptionHandler(Exception.class)
    @Nullable
    Object refuse(Exception thrown, HttpServletRequest request, HttpServletResponse response) {
        if (response.isCommitted()) {
            refusals.of(thrown, request);
            return null;
        }
        ResponseReset.wipe(response);
        return answers.answer(refusals.of(thrown, request), request, response);
    }

    /** Left to the filters of security, which know whether to ask for a sign-in. */
    @ExceptionHandler({AccessDeniedException.class, AuthenticationException.class})
    void leave(RuntimeException thrown) {
        throw thrown;
    }

    /** The asker has gone: there is nobody to answer. */
    @ExceptionHandler({ClientAbortException.class, AsyncRequestNotUsableException.class})
    void gone() {}
}
