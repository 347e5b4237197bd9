package org.earslot.page.web;

import jakarta.servlet.http.HttpServletRequest;
import java.security.SecureRandom;
import org.earslot.page.LoggedFailure;
import org.earslot.page.OutOfMemory;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;

/** Writes what nobody foresaw to the log under a reference. */
@Component
class FailureLog {

    private static final Logger LOG = LoggerFactory.getLogger(FailureLog.class);
    private static final String LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ";
    private static final int LENGTH = 8;
    private static final int LONGEST_PATH = 200;

    private final SecureRandom random = new SecureRandom();

    /** Keeps the failure and answers its reference. */
    String keep(Throwable thrown, HttpServletRequest request) {
        OutOfMemory.endIfCauseOf(thrown);
        StringBuilder reference = new StringBuilder(LENGTH);
        for (int i = 0; i < LENGTH; i++) {
            reference.append(LETTERS.charAt(random.nextInt(LETTERS.length())));
        }
        LOG.error("Reference {}: {} {}", reference, request.getMethod(), path(request), LoggedFailure.of(thrown));
        return reference.toString();
    }

    /** The path as it may be logged: without parameters and control characters, at most 200 characters. */
    static String path(HttpServletRequest request) {
        String path = request.getRequestURI().replaceAll("\\p{Cntrl}", "?");
        return path.length() > LONGEST_PATH ? path.substring(0, LONGEST_PATH) + "…" : path;
    }
}
