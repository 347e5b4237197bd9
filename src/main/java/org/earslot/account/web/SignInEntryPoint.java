package org.earslot.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.web.AuthenticationEntryPoint;

/** Leads a visitor to the sign-in page, and says so if a session has ended. */
class SignInEntryPoint implements AuthenticationEntryPoint {

    static final String EXCHANGE = "HX-Request";

    @Override
    public void commence(HttpServletRequest request, HttpServletResponse response, AuthenticationException refused)
            throws IOException {
        boolean ended = request.getAttribute(SessionWatch.ENDED) != null
                || request.getRequestedSessionId() != null && !request.isRequestedSessionIdValid();
        String page = request.getContextPath() + SecurityConfig.SIGN_IN + (ended ? "?ended" : "");
        if (request.getHeader(EXCHANGE) == null) {
            response.sendRedirect(page);
        } else {
            // Part of a page was asked for: the page stays, with what was typed or pressed, and says so.
            response.setStatus(HttpServletResponse.SC_UNAUTHORIZED);
        }
    }
}
