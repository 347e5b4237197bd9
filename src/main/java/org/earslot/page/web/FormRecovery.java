package org.earslot.page.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpSession;
import java.io.Serializable;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Component;

/**
 * Keeps, in the session of whoever typed it, the last form that a failure came between, so that nothing has to be typed
 * twice. The page of the failure itself shows none of it.
 */
@Component
class FormRecovery {

    private static final String KEPT = FormRecovery.class.getName();
    private static final List<Integer> WORTH_KEEPING = List.of(409, 412, 500, 503);
    private static final int LONGEST = 100_000;

    /** A form as it was sent: where to, and every field. */
    record Form(String path, LinkedHashMap<String, List<String>> values) implements Serializable {}

    /** Keeps the form of {@code request} if there is one and the status promises another try; answers whether. */
    boolean keep(HttpServletRequest request, int status) {
        String type = request.getContentType();
        HttpSession session = request.getSession(false);
        boolean form = "POST".equals(request.getMethod())
                && type != null
                && type.startsWith(MediaType.APPLICATION_FORM_URLENCODED_VALUE);
        if (!form || session == null || request.getUserPrincipal() == null || !worthKeeping(request, status)) {
            return false;
        }
        LinkedHashMap<String, List<String>> values = new LinkedHashMap<>();
        request.getParameterMap().forEach((name, given) -> {
            String lower = name.toLowerCase(Locale.ROOT);
            if (!name.startsWith("_") && !lower.contains("password")) {
                values.put(name, List.of(given));
            }
        });
        if (values.isEmpty() || length(values) > LONGEST) {
            return false;
        }
        session.setAttribute(KEPT, new Form(ErrorAnswers.path(request), values));
        return true;
    }

    /** The form kept last in the session of {@code request}. */
    Optional<Form> kept(HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        return session == null ? Optional.empty() : Optional.ofNullable((Form) session.getAttribute(KEPT));
    }

    /** Forgets the form. */
    void forget(HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        if (session != null) {
            session.removeAttribute(KEPT);
        }
    }

    /** A form refused for its token may have come from elsewhere; the browser says so if it came from here. */
    private static boolean worthKeeping(HttpServletRequest request, int status) {
        return WORTH_KEEPING.contains(status)
                || (status == 403 && "same-origin".equals(request.getHeader("Sec-Fetch-Site")));
    }

    private static int length(Map<String, List<String>> values) {
        return values.values().stream()
                .flatMap(List::stream)
                .mapToInt(String::length)
                .sum();
    }
}
