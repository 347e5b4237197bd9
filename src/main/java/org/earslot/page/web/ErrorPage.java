package org.earslot.page.web;

import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.boot.webmvc.error.ErrorController;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.RequestMapping;

/** Answers what filters and the container refuse, before or after a request is handled. */
@Controller
class ErrorPage implements ErrorController {

    private final Refusals refusals;
    private final ErrorAnswers answers;

    ErrorPage(Refusals refusals, ErrorAnswers answers) {
        this.refusals = refusals;
        this.answers = answers;
    }

    @RequestMapping("/error")
    Object error(HttpServletRequest request, HttpServletResponse response) {
        Object status = request.getAttribute(RequestDispatcher.ERROR_STATUS_CODE);
        Object thrown = request.getAttribute(UncaughtExceptionFilter.REFUSAL);
        Refusal refusal = thrown instanceof Refusal known
                ? known
                : refusals.ofStatus(status instanceof Integer code ? code : 404);
        return answers.answer(refusal, request, response);
    }
}
