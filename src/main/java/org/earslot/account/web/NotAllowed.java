package org.earslot.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.regex.Pattern;
import org.earslot.account.SignedInUser;
import org.earslot.clinic.Audited;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.authentication.AnonymousAuthenticationToken;
import org.springframework.security.authentication.InsufficientAuthenticationException;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.access.AccessDeniedHandler;

/** Tells a person that their role does not reach so far, and leads a visitor whose token has run out to the sign-in. */
class NotAllowed implements AccessDeniedHandler {

    private final SignInEntryPoint signInEntryPoint = new SignInEntryPoint();
    private static final Pattern PLAIN = Pattern.compile("[\\w/.-]{1,120}");

    private final ApplicationEventPublisher events;

    NotAllowed(ApplicationEventPublisher events) {
        this.events = events;
    }

    @Override
    public void handle(HttpServletRequest request, HttpServletResponse response, AccessDeniedException denied)
            throws IOException {
        Authentication asker = SecurityContextHolder.getContext().getAuthentication();
        if (asker == null || asker instanceof AnonymousAuthenticationToken) {
            signInEntryPoint.commence(request, response, new InsufficientAuthenticationException("token", denied));
        } else {
            if (asker.getPrincipal() instanceof SignedInUser who) {
                record(who, request);
            }
            response.sendError(HttpServletResponse.SC_FORBIDDEN);
        }
    }

    /** The address without what was asked with it. */
    private void record(SignedInUser who, HttpServletRequest request) {
        String path = request.getRequestURI().substring(request.getContextPath().length());
        String where = PLAIN.matcher(path).matches() ? path : "an address";
        events.publishEvent(new Audited.Entry(
                who.clinicId(), "access-refused", "address", null, request.getMethod() + " " + where));
    }
}
