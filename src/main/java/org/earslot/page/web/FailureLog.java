package org.earslot.page.web;

import jakarta.servlet.http.HttpServletRequest;
import java.security.SecureRandom;
import org.earslot.page.LoggedFailure;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;

/** Writes what nobody foresaw to the log under a reference. */
@Component
class FailureLog {

    private static final Logger LOG = LoggerFactory.getLogger(FailureLog.class);
    private static final String LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ";
    private static final int LENGTH = 8;

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
                LoggedFailure.of(thrown));
        return reference.toString();
    }
}
