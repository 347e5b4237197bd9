package org.earslot.page.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Takes back what a failed answer has said of itself (that it is a file, say), but not what keeps the browser safe. */
final class ResponseReset {

    private ResponseReset() {}

    /** Clears status, body and the headers that describe the body; only before anything was sent. */
    static void wipe(HttpServletResponse response) {
        Map<String, List<String>> kept = new LinkedHashMap<>();
        for (String name : response.getHeaderNames()) {
            String lower = name.toLowerCase(Locale.ROOT);
            if (!lower.startsWith("content-") || lower.equals("content-security-policy")) {
                kept.put(name, new ArrayList<>(response.getHeaders(name)));
            }
        }
        response.reset();
        kept.forEach((name, values) -> values.forEach(value -> response.addHeader(name, value)));
    }
}
