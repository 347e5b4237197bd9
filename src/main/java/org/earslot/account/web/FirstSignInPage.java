package org.earslot.account.web;

import java.time.ZoneId;
import java.util.List;
import org.earslot.account.FirstSignIn;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.context.annotation.Profile;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The first person opens the clinic; the page is gone as soon as somebody has an account. */
@Controller
@Profile("!demo")
class FirstSignInPage {

    private final FirstSignIn firstSignIn;
    private final Messages messages;

    FirstSignInPage(FirstSignIn firstSignIn, Messages messages) {
        this.firstSignIn = firstSignIn;
        this.messages = messages;
    }

    /** The form as typed. */
    record Form(
            String code,
            String clinicName,
            String timeZone,
            String phone,
            String address,
            String openingHours,
            String signInName,
            String displayName,
            String password,
            String repeated) {

        Form {
            code = text(code);
            clinicName = text(clinicName);
            timeZone = text(timeZone);
            phone = text(phone);
            address = text(address);
            openingHours = text(openingHours);
            signInName = text(signInName);
            displayName = text(displayName);
            password = text(password);
            repeated = text(repeated);
        }

        private static String text(@org.jspecify.annotations.Nullable String given) {
            return given == null ? "" : given;
        }
    }

    @GetMapping(SecurityConfig.FIRST_SIGN_IN)
    ModelAndView show() {
        awaited();
        return page(new Form("", "", "Europe/London", "", "", "", "", "", "", ""), List.of(), HttpStatus.OK);
    }

    @PostMapping(SecurityConfig.FIRST_SIGN_IN)
    ModelAndView begin(@ModelAttribute Form form, RedirectAttributes redirect) {
        awaited();
        Checks checks = new Checks(messages);
        FirstSignIn.Beginning beginning = new FirstSignIn.Beginning(
                checks.name("clinicName", form.clinicName()),
                checks.zone(form.timeZone()),
                checks.contact(form.phone(), form.address(), form.openingHours()),
                checks.signInName(form.signInName()),
                checks.name("displayName", form.displayName()),
                form.password());
        checks.chosenPassword(form.password(), form.repeated(), beginning.signInName(), beginning.clinicName());
        if (checks.problems().isEmpty() && !firstSignIn.begin(form.code(), beginning)) {
            checks.problem("firstCode", "", "firstCode");
        }
        if (!checks.problems().isEmpty()) {
            return page(form, checks.problems(), HttpStatus.BAD_REQUEST);
        }
        redirect.addFlashAttribute("notice", messages.say("account.first.done"));
        return new ModelAndView("redirect:" + SecurityConfig.SIGN_IN);
    }

    private void awaited() {
        if (!firstSignIn.awaited()) {
            throw Refused.notFound("page");
        }
    }

    private static ModelAndView page(Form form, List<Problem> problems, HttpStatusCode status) {
        ModelAndView page = new ModelAndView("account/first-sign-in", status);
        page.addObject("form", form);
        page.addObject("problems", problems);
        page.addObject(
                "zones",
                ZoneId.getAvailableZoneIds().stream()
                        .filter(zone -> zone.equals("UTC") || zone.matches("(?!Etc|SystemV|US/).+/.+"))
                        .sorted()
                        .toList());
        return page;
    }
}
