package org.earslot.page.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Enumeration;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.web.filter.ForwardedHeaderFilter;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Shows a request as the browser sent it to the proxy. Only a proxy that was declared is believed, and of a list only
 * what it wrote itself, which is the last: whatever stands before came from the sender. From anybody else these
 * headers are removed.
 */
class OriginalRequest extends OncePerRequestFilter {

    private static final String FORWARDED = "Forwarded";
    private static final String X_FORWARDED = "x-forwarded-";

    /** A path before all of ours, which no proxy has a reason to name. */
    private static final String PREFIX = "x-forwarded-prefix";

    private final Reachability reachability;
    private final ForwardedHeaderFilter believe = new ForwardedHeaderFilter();
    private final ForwardedHeaderFilter remove = new ForwardedHeaderFilter();

    OriginalRequest(Reachability reachability) {
        this.reachability = reachability;
        remove.setRemoveOnly(true);
    }

    @Override
    protected boolean shouldNotFilterErrorDispatch() {
        return false;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        if (reachability.isProxy(request.getRemoteAddr())) {
            believe.doFilter(new ByTheProxy(request), response, chain);
        } else {
            remove.doFilter(request, response, chain);
        }
    }

    /** A request with what the nearest proxy wrote, in one of the two ways to write it. */
    private final class ByTheProxy extends HttpServletRequestWrapper {

        private final boolean inSeveralHeaders;

        ByTheProxy(HttpServletRequest request) {
            super(request);
            inSeveralHeaders = Collections.list(request.getHeaderNames()).stream()
                    .anyMatch(name -> name.toLowerCase(Locale.ROOT).startsWith(X_FORWARDED));
        }

        private boolean isHidden(String name) {
            return name.equalsIgnoreCase(PREFIX) || (inSeveralHeaders && name.equalsIgnoreCase(FORWARDED));
        }

        @Override
        public Enumeration<String> getHeaderNames() {
            Set<String> shown = Collections.list(super.getHeaderNames()).stream()
                    .filter(name -> !isHidden(name))
                    .collect(Collectors.toSet());
            return Collections.enumeration(shown);
        }

        @Override
        public Enumeration<String> getHeaders(String name) {
            List<String> given = isHidden(name) ? List.of() : Collections.list(super.getHeaders(name));
            return Collections.enumeration(isOfProxies(name) && !given.isEmpty() ? List.of(last(name, given)) : given);
        }

        @Override
        public @Nullable String getHeader(String name) {
            Enumeration<String> values = getHeaders(name);
            return values.hasMoreElements() ? values.nextElement() : null;
        }

        private static boolean isOfProxies(String name) {
            return name.equalsIgnoreCase(FORWARDED)
                    || name.toLowerCase(Locale.ROOT).startsWith(X_FORWARDED);
        }

        /** The last element; of addresses, the last that is not another declared proxy's. */
        private String last(String name, List<String> values) {
            List<String> all = new ArrayList<>();
            values.forEach(value -> all.addAll(List.of(value.split(","))));
            Collections.reverse(all);
            boolean addresses = name.equalsIgnoreCase("X-Forwarded-For");
            return all.stream()
                    .map(String::strip)
                    .filter(each -> !each.isEmpty() && !(addresses && reachability.isProxy(each)))
                    .findFirst()
                    .orElse("");
        }
    }
}
