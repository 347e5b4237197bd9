package org.earslot.page.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/** Catches what escapes everything else, while a page is drawn for one, before the container logs it with its message. */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE + 10)
class UncaughtExceptionFilter extends OncePerRequestFilter {

    /** The request attribute with the refusal to answer. */
    static final String REFUSAL = UncaughtExceptionFilter.class.getName() + ".refusal";

    private final Refusals refusals;

    UncaughtExceptionFilter(Refusals refusals) {
        this.refusals = refusals;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        try {
            chain.doFilter(request, response);
        } catch (ServletException | RuntimeException thrown) {
            Throwable cause =
                    thrown instanceof ServletException && thrown.getCause() != null ? thrown.getCause() : thrown;
            Refusal refusal = refusals.of(cause, request);
            if (!response.isCommitted()) {
                request.setAttribute(REFUSAL, refusal);
                ResponseReset.wipe(response);
                response.sendError(refusal.status());
            }
        }
    }
}
