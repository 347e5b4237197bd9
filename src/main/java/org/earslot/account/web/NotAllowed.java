package org.earslot.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.authentication.AnonymousAuthenticationToken;
import org.springframework.security.authentication.InsufficientAuthenticationException;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.access.AccessDeniedHandler;

/** Tells a person that their role does not reach so far, and leads a visitor whose token has run out to the sign-in. */
class NotAllowed implements AccessDeniedHandler {

    private final ToSignIn toSignIn = new ToSignIn();

    @Override
    public void handle(HttpServletRequest request, HttpServletResponse response, AccessDeniedException denied)
            throws IOException {
        Authentication asker = SecurityContextHolder.getContext().getAuthentication();
        if (asker == null || asker instanceof AnonymousAuthenticationToken) {
            toSignIn.commence(request, response, new InsufficientAuthenticationException("token", denied));
        } else {
            response.sendError(HttpServletResponse.SC_FORBIDDEN);
        }
    }
}
