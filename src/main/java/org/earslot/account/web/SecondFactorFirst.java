package org.earslot.account.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import java.io.IOException;
import java.util.Map;
import org.earslot.account.SignInStamp;
import org.earslot.account.SignInStamp.Owes;
import org.springframework.security.web.util.matcher.RequestMatcher;
import org.springframework.web.filter.OncePerRequestFilter;

/** Holds a person who still owes the second factor to the page where it is given or set up. */
class SecondFactorFirst extends OncePerRequestFilter {

    private final Map<Owes, RequestMatcher> stillOpen;

    /** @param stillOpen the addresses that are answered nevertheless, by what is owed */
    SecondFactorFirst(Map<Owes, RequestMatcher> stillOpen) {
        this.stillOpen = stillOpen;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        Owes owes = owes(request);
        if (owes == Owes.NOTHING || stillOpen.get(owes).matches(request)) {
            chain.doFilter(request, response);
        } else {
            response.sendRedirect(request.getContextPath() + SecurityConfig.SECOND_FACTOR);
        }
    }

    static Owes owes(HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        return session != null && session.getAttribute(SignInStamp.ATTRIBUTE) instanceof SignInStamp stamp
                ? stamp.owes()
                : Owes.NOTHING;
    }
}
