package org.earslot.account.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import org.earslot.account.SessionRules;
import org.earslot.account.SignInStamp;
import org.earslot.account.SignedInUser;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.web.filter.OncePerRequestFilter;

/** Ends a session that must not go on, before anything is answered; a screen that refreshes itself does not use it. */
class SessionWatch extends OncePerRequestFilter {

    /** Set on a request whose session has just been ended. */
    static final String ENDED = SessionWatch.class.getName() + ".ended";

    /** A use is written down no more often, so that not every request writes to the database. */
    private static final Duration NOTED_EVERY = Duration.ofMinutes(1);

    private final SessionRules rules;

    SessionWatch(SessionRules rules) {
        this.rules = rules;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        HttpSession session = request.getSession(false);
        if (session != null && person(session) instanceof SignedInUser.Person person) {
            watch(session, person, request);
        }
        chain.doFilter(request, response);
    }

    private void watch(HttpSession session, SignedInUser.Person person, HttpServletRequest request) {
        boolean goesOn = session.getAttribute(SignInStamp.ATTRIBUTE) instanceof SignInStamp began
                && session.getAttribute(SignInStamp.LAST_USED) instanceof Instant lastUsed
                && rules.goesOn(person, began, lastUsed);
        if (!goesOn) {
            session.invalidate();
            request.setAttribute(ENDED, true);
        } else if (isUse(request)) {
            note(session);
        }
    }

    private void note(HttpSession session) {
        Instant now = rules.now();
        Instant noted = (Instant) session.getAttribute(SignInStamp.LAST_USED);
        if (now.isAfter(noted.plus(NOTED_EVERY))) {
            session.setAttribute(SignInStamp.LAST_USED, now);
        }
    }

    /** Parts of pages are read by scripts alone, by themselves; a press is sent. */
    private static boolean isUse(HttpServletRequest request) {
        boolean read = HttpMethod.GET.matches(request.getMethod());
        boolean byItself = request.getHeader(SignInEntryPoint.EXCHANGE) != null
                || String.valueOf(request.getHeader(HttpHeaders.ACCEPT)).contains(MediaType.TEXT_EVENT_STREAM_VALUE);
        return !(read && byItself);
    }

    private static Object person(HttpSession session) {
        Object context = session.getAttribute(HttpSessionSecurityContextRepository.SPRING_SECURITY_CONTEXT_KEY);
        return context instanceof SecurityContext known && known.getAuthentication() != null
                ? known.getAuthentication().getPrincipal()
                : "nobody";
    }
}
