package org.earslot.account.web;

import jakarta.servlet.http.HttpServletRequest;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import org.earslot.account.SecondFactorCheck;
import org.earslot.account.SignInStamp;
import org.earslot.account.SignInStamp.Owes;
import org.earslot.account.SignedInUser;
import org.earslot.page.Messages;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The second factor of a person: given at the sign-in, set up, removed. */
@Controller
@RequestMapping(SecurityConfig.SECOND_FACTOR)
class SecondFactorPage {

    private final SecondFactorCheck factors;
    private final OwnPasswordCheck ownPasswords;
    private final Messages messages;

    SecondFactorPage(SecondFactorCheck factors, OwnPasswordCheck ownPasswords, Messages messages) {
        this.factors = factors;
        this.ownPasswords = ownPasswords;
        this.messages = messages;
    }

    @GetMapping
    ModelAndView show(@AuthenticationPrincipal SignedInUser.Person person, HttpServletRequest request) {
        return page(person, request, new Checks(messages));
    }

    /** The code at the sign-in. */
    @PostMapping
    ModelAndView give(
            @AuthenticationPrincipal SignedInUser.Person person,
            @RequestParam(defaultValue = "") String code,
            HttpServletRequest request) {
        if (SecondFactorFirst.owes(request) != Owes.CODE) {
            return new ModelAndView("redirect:/");
        }
        if (factors.accepts(person, code, request.getRemoteAddr())) {
            settle(request);
            return new ModelAndView("redirect:/");
        }
        return refused(person, request, "code", "code");
    }

    /** Shows a new secret, once. */
    @PostMapping("/begin")
    ModelAndView begin(
            @AuthenticationPrincipal SignedInUser.Person person,
            @RequestParam(defaultValue = "") String ownPassword,
            HttpServletRequest request) {
        Checks checks = new Checks(messages);
        ownPasswords.check(checks, ownPassword);
        Optional<String> secret = checks.problems().isEmpty() ? factors.begin(person) : Optional.empty();
        ModelAndView page = page(person, request, checks);
        secret.ifPresent(shown -> {
            page.addObject("secret", shown.replaceAll("(.{4})(?=.)", "$1 "));
            page.addObject("uri", uri(person.name(), shown));
            page.addObject("confirming", true);
        });
        return page;
    }

    /** Counts from now on; the recovery codes are shown once. */
    @PostMapping("/confirm")
    ModelAndView confirm(
            @AuthenticationPrincipal SignedInUser.Person person,
            @RequestParam(defaultValue = "") String code,
            HttpServletRequest request) {
        List<String> codes = factors.confirm(person, code);
        if (codes.isEmpty()) {
            return refused(person, request, "code", "code").addObject("confirming", !factors.has(person.accountId()));
        }
        settle(request);
        return page(person, request, new Checks(messages)).addObject("recoveryCodes", codes);
    }

    @PostMapping("/remove")
    ModelAndView remove(
            @AuthenticationPrincipal SignedInUser.Person person,
            @RequestParam(defaultValue = "") String ownPassword,
            HttpServletRequest request,
            RedirectAttributes redirect) {
        Checks checks = new Checks(messages);
        if (factors.mustHave(person)) {
            checks.problem("secondFactor", "", "secondFactorNeeded");
        }
        ownPasswords.check(checks, ownPassword);
        if (!checks.problems().isEmpty()) {
            return page(person, request, checks);
        }
        factors.remove(person.clinicId(), person.accountId());
        redirect.addFlashAttribute("notice", messages.say("account.factor.removed"));
        return new ModelAndView("redirect:" + SecurityConfig.SECOND_FACTOR);
    }

    private ModelAndView refused(SignedInUser.Person person, HttpServletRequest request, String field, String what) {
        Checks checks = new Checks(messages);
        checks.problem(field, "", what);
        return page(person, request, checks);
    }

    private ModelAndView page(SignedInUser.Person person, HttpServletRequest request, Checks checks) {
        ModelAndView page = new ModelAndView("account/second-factor");
        page.setStatus(checks.problems().isEmpty() ? HttpStatus.OK : HttpStatus.BAD_REQUEST);
        page.addObject("problems", checks.problems());
        page.addObject("owes", SecondFactorFirst.owes(request).name());
        page.addObject("has", factors.has(person.accountId()));
        page.addObject("left", factors.recoveryCodesLeft(person.accountId()));
        page.addObject("confirming", false);
        return page;
    }

    private static void settle(HttpServletRequest request) {
        if (request.getSession().getAttribute(SignInStamp.ATTRIBUTE) instanceof SignInStamp stamp) {
            request.getSession().setAttribute(SignInStamp.ATTRIBUTE, stamp.paid());
        }
    }

    /** The form in which authenticator apps take a secret (common practice, no source). */
    private static String uri(String name, String secret) {
        String label = URLEncoder.encode(name, StandardCharsets.UTF_8).replace("+", "%20");
        return "otpauth://totp/Earslot:" + label + "?secret=" + secret + "&issuer=Earslot";
    }
}
