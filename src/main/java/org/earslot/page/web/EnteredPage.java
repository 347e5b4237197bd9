package org.earslot.page.web;

import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Collections;
import java.util.Enumeration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;

/** What was entered before a failure: to be read, or to be sent again as it was. */
@Controller
class EnteredPage {

    private final FormRecovery kept;

    EnteredPage(FormRecovery kept) {
        this.kept = kept;
    }

    @GetMapping("/entered")
    String show(HttpServletRequest request, Model model) {
        model.addAttribute("form", kept.kept(request).orElseThrow(EnteredPage::nothing));
        return "page/entered";
    }

    @PostMapping("/entered")
    void sendAgain(HttpServletRequest request, HttpServletResponse response) throws ServletException, IOException {
        FormRecovery.Form form = kept.kept(request).orElseThrow(EnteredPage::nothing);
        kept.forget(request);
        String path = form.path().substring(request.getContextPath().length());
        request.getRequestDispatcher(path).forward(new Again(request, form), response);
    }

    private static Refused nothing() {
        return Refused.notFound("entered-form");
    }

    /** The request with the kept fields in place of its own. */
    private static final class Again extends HttpServletRequestWrapper {

        private final Map<String, String[]> values = new LinkedHashMap<>();

        Again(HttpServletRequest request, FormRecovery.Form form) {
            super(request);
            form.values().forEach((name, given) -> values.put(name, given.toArray(String[]::new)));
        }

        @Override
        public @Nullable String getParameter(String name) {
            String[] given = values.get(name);
            return given == null || given.length == 0 ? null : given[0];
        }

        @Override
        public Map<String, String[]> getParameterMap() {
            return Collections.unmodifiableMap(values);
        }

        @Override
        public Enumeration<String> getParameterNames() {
            return Collections.enumeration(List.copyOf(values.keySet()));
        }

        @Override
        public String @Nullable [] getParameterValues(String name) {
            return values.get(name);
        }
    }
}
