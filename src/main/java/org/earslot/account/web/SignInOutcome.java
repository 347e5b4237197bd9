package org.earslot.account.web;

import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Duration;
import org.earslot.account.SessionRules;
import org.earslot.account.SignInStamp;
import org.earslot.account.SignedInUser;
import org.earslot.page.Busy;
import org.springframework.http.HttpHeaders;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.web.authentication.AuthenticationFailureHandler;
import org.springframework.security.web.authentication.SavedRequestAwareAuthenticationSuccessHandler;
import org.springframework.security.web.savedrequest.RequestCache;

/** Where a sign-in leads: on to the page that was asked for, or back with one and the same refusal. */
class SignInOutcome extends SavedRequestAwareAuthenticationSuccessHandler implements AuthenticationFailureHandler {

    private final Duration session;
    private final SessionRules rules;

    SignInOutcome(Duration session, SessionRules rules, RequestCache asked) {
        this.session = session;
        this.rules = rules;
        setRequestCache(asked);
        setDefaultTargetUrl("/");
    }

    @Override
    public void onAuthenticationSuccess(
            HttpServletRequest request, HttpServletResponse response, Authentication authentication)
            throws ServletException, IOException {
        request.getSession().setMaxInactiveInterval((int) session.toSeconds());
        if (authentication.getPrincipal() instanceof SignedInUser.Person person) {
            SignInStamp began = rules.begin(person, request.getRemoteAddr());
            request.getSession().setAttribute(SignInStamp.ATTRIBUTE, began);
            request.getSession().setAttribute(SignInStamp.LAST_USED, began.at());
        }
        super.onAuthenticationSuccess(request, response, authentication);
    }

    @Override
    public void onAuthenticationFailure(
            HttpServletRequest request, HttpServletResponse response, AuthenticationException refused)
            throws IOException {
        if (refused.getCause() instanceof Busy busy) {
            response.setHeader(
                    HttpHeaders.RETRY_AFTER, Long.toString(busy.retryAfter().toSeconds()));
            response.sendError(HttpServletResponse.SC_SERVICE_UNAVAILABLE);
        } else {
            response.sendRedirect(request.getContextPath() + SecurityConfig.SIGN_IN + "?refused");
        }
    }
}
