package org.earslot.account.web;

import java.util.List;
import java.util.Optional;
import org.earslot.account.AccountAdministration;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioners;
import org.earslot.page.Messages;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The clinic's accounts: who signs in, in which role. */
@Controller
class AccountPages {

    private final AccountsPage page;
    private final CurrentClinic clinic;
    private final Practitioners practitioners;
    private final AccountAdministration accountAdministration;
    private final OwnPasswordCheck ownPasswords;
    private final Messages messages;

    AccountPages(
            AccountsPage page,
            CurrentClinic clinic,
            Practitioners practitioners,
            AccountAdministration accountAdministration,
            OwnPasswordCheck ownPasswords,
            Messages messages) {
        this.page = page;
        this.clinic = clinic;
        this.practitioners = practitioners;
        this.accountAdministration = accountAdministration;
        this.ownPasswords = ownPasswords;
        this.messages = messages;
    }

    @GetMapping(AccountsPage.ACCOUNTS)
    ModelAndView list() {
        return page.list(AccountForm.empty(), "", List.of(), HttpStatus.OK);
    }

    @PostMapping(AccountsPage.ACCOUNTS)
    ModelAndView admit(
            @ModelAttribute AccountForm form,
            @RequestParam(defaultValue = "") String ownPassword,
            RedirectAttributes redirect) {
        Checks checks = new Checks(messages);
        String signInName = checks.signInName(form.signInName());
        String displayName = checks.name("displayName", form.displayName());
        AccountForm.Assignment assignment = form.assignment(checks, clinic.id(), practitioners);
        ownPasswords.check(checks, ownPassword);
        Optional<AccountAdministration.Handed> handed = checks.problems().isEmpty()
                ? accountAdministration.admit(
                        clinic.id(), signInName, displayName, assignment.role(), assignment.practitionerId())
                : Optional.empty();
        if (handed.isEmpty()) {
            if (checks.problems().isEmpty()) {
                checks.problem("signInName", signInName, "taken");
            }
            return page.list(form, "", checks.problems(), HttpStatus.BAD_REQUEST);
        }
        redirect.addFlashAttribute("handed", handed.get());
        return new ModelAndView("redirect:" + AccountsPage.ACCOUNTS);
    }
}
