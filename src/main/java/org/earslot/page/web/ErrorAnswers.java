package org.earslot.page.web;

import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.LinkedHashMap;
import java.util.Map;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.springframework.http.HttpStatusCode;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** Gives a refusal its form: an RFC 9457 problem document for programs, a page for people. */
@Component
class ErrorAnswers {

    private static final String PROGRAMS = "/api/";

    /** A problem as programs read it. */
    record Said(String field, String given, String allowed, String remedy) {}

    private final Messages messages;
    private final FormRecovery kept;

    ErrorAnswers(Messages messages, FormRecovery kept) {
        this.messages = messages;
        this.kept = kept;
    }

    Object answer(Refusal refusal, HttpServletRequest request, HttpServletResponse response) {
        return path(request).startsWith(request.getContextPath() + PROGRAMS)
                ? document(refusal)
                : page(refusal, request, response);
    }

    private ResponseEntity<Map<String, Object>> document(Refusal refusal) {
        Map<String, Object> body = new LinkedHashMap<>();
        body.put("type", "about:blank");
        body.put("title", refusal.phrase());
        body.put("status", refusal.status());
        body.put("detail", refusal.detail());
        body.put("code", refusal.code());
        body.put("problems", refusal.problems().stream().map(this::said).toList());
        body.putAll(refusal.members());
        if (refusal.reference() != null) {
            body.put("reference", refusal.reference());
        }
        return ResponseEntity.status(refusal.status())
                .headers(refusal.headers())
                .contentType(MediaType.APPLICATION_PROBLEM_JSON)
                .body(body);
    }

    private Said said(Problem problem) {
        return new Said(
                problem.field(), problem.given(), messages.say(problem.allowed()), messages.say(problem.remedy()));
    }

    private ModelAndView page(Refusal refusal, HttpServletRequest request, HttpServletResponse response) {
        refusal.headers().forEach((name, values) -> values.forEach(value -> response.addHeader(name, value)));
        ModelAndView page = new ModelAndView("page/error", HttpStatusCode.valueOf(refusal.status()));
        page.addObject("pageTitle", messages.say("page.error." + titled(refusal) + ".title"));
        page.addObject("refusal", refusal);
        page.addObject("entered", kept.keep(request, refusal.status()));
        return page;
    }

    /** A conflict is somebody else's doing, or one of the clinic's own rules. */
    private static String titled(Refusal refusal) {
        int status = refusal.status();
        return switch (status) {
            case 409 -> refusal.code().equals("changed-meanwhile") ? "409" : "rule";
            case 412 -> "409";
            case 403, 404, 413, 503 -> String.valueOf(status);
            default -> status < 500 ? "400" : "500";
        };
    }

    static String path(HttpServletRequest request) {
        Object original = request.getAttribute(RequestDispatcher.ERROR_REQUEST_URI);
        return original == null ? request.getRequestURI() : original.toString();
    }
}
