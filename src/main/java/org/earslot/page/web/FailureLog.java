package org.earslot.page.web;

import jakarta.servlet.http.HttpServletRequest;
import java.security.SecureRandom;
import java.sql.SQLException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;

/**
 * Writes what nobody foresaw to the log under a reference. Kinds of exception and where they arose, never their
 * messages: those may repeat what was typed about a patient.
 */
@Component
class FailureLog {

    private static final Logger LOG = LoggerFactory.getLogger(FailureLog.class);
    private static final String LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ";
    private static final int LENGTH = 8;
    private static final int DEEPEST = 10;

    private final SecureRandom random = new SecureRandom();

    /** Keeps the failure and answers its reference. */
    String keep(Throwable thrown, HttpServletRequest request) {
        StringBuilder reference = new StringBuilder(LENGTH);
        for (int i = 0; i < LENGTH; i++) {
            reference.append(LETTERS.charAt(random.nextInt(LETTERS.length())));
        }
        LOG.error(
                "Reference {}: {} {}",
                reference,
                request.getMethod(),
                request.getRequestURI().replaceAll("\\p{Cntrl}", "?"),
                unspoken(thrown, 0));
        return reference.toString();
    }

    private static Throwable unspoken(Throwable thrown, int depth) {
        Throwable cause = thrown.getCause();
        String kind = thrown.getClass().getName()
                + (thrown instanceof SQLException sql ? " SQLState " + sql.getSQLState() : "");
        return new Unspoken(
                kind, cause == null || depth == DEEPEST ? null : unspoken(cause, depth + 1), thrown.getStackTrace());
    }

    /** An exception without its message. */
    private static final class Unspoken extends Exception {
        Unspoken(String kind, @org.jspecify.annotations.Nullable Throwable cause, StackTraceElement[] trace) {
            super(kind, cause);
            setStackTrace(trace);
        }
    }
}
