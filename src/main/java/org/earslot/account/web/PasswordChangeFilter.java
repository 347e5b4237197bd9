package org.earslot.account.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.earslot.account.SignedInUser;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.util.matcher.RequestMatcher;
import org.springframework.web.filter.OncePerRequestFilter;

/** Holds a person whose password was handed over to the page where a new one is chosen. */
class PasswordChangeFilter extends OncePerRequestFilter {

    private final RequestMatcher stillOpen;

    PasswordChangeFilter(RequestMatcher stillOpen) {
        this.stillOpen = stillOpen;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
        boolean mustChange = authentication != null
                && authentication.getPrincipal() instanceof SignedInUser.Person person
                && person.mustChangePassword();
        if (mustChange && !stillOpen.matches(request)) {
            response.sendRedirect(request.getContextPath() + SecurityConfig.PASSWORD);
        } else {
            chain.doFilter(request, response);
        }
    }
}
