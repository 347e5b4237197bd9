package org.earslot.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Optional;
import org.earslot.account.OpenSessions;
import org.earslot.account.OwnPassword;
import org.earslot.account.SessionRules;
import org.earslot.account.SignInStamp;
import org.earslot.account.SignedInUser;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Clinics;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.security.web.context.SecurityContextRepository;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A person's own password. */
@Controller
class PasswordPage {

    private final OwnPassword ownPassword;
    private final OpenSessions sessions;
    private final SessionRules rules;
    private final ClinicClock clock;
    private final Clinics clinics;
    private final Messages messages;
    private final SecurityContextRepository contexts = new HttpSessionSecurityContextRepository();

    PasswordPage(
            OwnPassword ownPassword,
            OpenSessions sessions,
            SessionRules rules,
            ClinicClock clock,
            Clinics clinics,
            Messages messages) {
        this.ownPassword = ownPassword;
        this.sessions = sessions;
        this.rules = rules;
        this.clock = clock;
        this.clinics = clinics;
        this.messages = messages;
    }

    @GetMapping(SecurityConfig.PASSWORD)
    ModelAndView show(@AuthenticationPrincipal SignedInUser.Person person, HttpServletRequest request) {
        return page(person, request, List.of(), HttpStatus.OK);
    }

    /** Signs the person out on all other devices. */
    @PostMapping(SecurityConfig.PASSWORD + "/sign-out-elsewhere")
    String signOutElsewhere(
            @AuthenticationPrincipal SignedInUser.Person person,
            HttpServletRequest request,
            RedirectAttributes redirect) {
        sessions.endOthers(person, request.getSession().getId());
        redirect.addFlashAttribute("notice", messages.say("account.sessions.ended"));
        return "redirect:" + SecurityConfig.PASSWORD;
    }

    @PostMapping(SecurityConfig.PASSWORD)
    ModelAndView change(
            @AuthenticationPrincipal SignedInUser.Person person,
            @RequestParam(defaultValue = "") String currentPassword,
            @RequestParam(defaultValue = "") String newPassword,
            @RequestParam(defaultValue = "") String repeatedPassword,
            HttpServletRequest request,
            HttpServletResponse response,
            RedirectAttributes redirect) {
        Checks checks = new Checks(messages);
        checks.chosenPassword(
                newPassword,
                repeatedPassword,
                person.name(),
                clinics.findById(person.clinicId()).orElseThrow().name());
        if (newPassword.equals(currentPassword)) {
            checks.problem("newPassword", "", "samePassword");
        }
        Optional<SignedInUser.Person> changed = checks.problems().isEmpty()
                ? ownPassword.change(
                        person,
                        currentPassword,
                        newPassword,
                        request.getSession().getId())
                : Optional.empty();
        if (changed.isEmpty()) {
            if (checks.problems().isEmpty()) {
                checks.problem("currentPassword", "", "currentPassword");
            }
            return page(person, request, checks.problems(), HttpStatus.BAD_REQUEST);
        }
        goOnAs(changed.get(), request, response);
        redirect.addFlashAttribute("notice", messages.say("account.password.done"));
        return new ModelAndView("redirect:/");
    }

    private void goOnAs(SignedInUser.Person person, HttpServletRequest request, HttpServletResponse response) {
        request.changeSessionId();
        SecurityContext context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(
                UsernamePasswordAuthenticationToken.authenticated(person, null, person.authorities()));
        SecurityContextHolder.setContext(context);
        contexts.saveContext(context, request, response);
        if (request.getSession().getAttribute(SignInStamp.ATTRIBUTE) instanceof SignInStamp before) {
            request.getSession().setAttribute(SignInStamp.ATTRIBUTE, rules.renewed(person, before));
        }
    }

    private ModelAndView page(
            SignedInUser.Person person, HttpServletRequest request, List<Problem> problems, HttpStatusCode status) {
        ModelAndView page = new ModelAndView("account/password", status);
        page.addObject("problems", problems);
        page.addObject("mustChange", person.mustChangePassword());
        page.addObject("signInName", person.name());
        page.addObject("sessions", sessions.of(person, request.getSession().getId()));
        page.addObject("zone", clock.zone(person.clinicId()));
        return page;
    }
}
