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
import org.springframework.util.unit.DataSize;

/** Tells a person that their role does not reach so far, and leads a visitor whose token has run out to the sign-in. */
class NotAllowed implements AccessDeniedHandler {

    private final ToSignIn toSignIn = new ToSignIn();
    private final DataSize largest;

    NotAllowed(DataSize largest) {
        this.largest = largest;
    }

    @Override
    public void handle(HttpServletRequest request, HttpServletResponse response, AccessDeniedException denied)
            throws IOException {
        if (request.getContentLengthLong() > largest.toBytes()) {
            // The token of a form with a file is only found once the whole is read, which its size forbids.
            response.sendError(HttpServletResponse.SC_REQUEST_ENTITY_TOO_LARGE);
            return;
        }
        Authentication asker = SecurityContextHolder.getContext().getAuthentication();
        if (asker == null || asker instanceof AnonymousAuthenticationToken) {
            toSignIn.commence(request, response, new InsufficientAuthenticationException("token", denied));
        } else {
            response.sendError(HttpServletResponse.SC_FORBIDDEN);
        }
    }
}
