package org.earslot.account.web;

import java.util.UUID;
import org.earslot.account.SecondFactorCheck;
import org.earslot.account.SignedInUser;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What a lead says of others' second factors, on the pages of accounts. */
@Controller
@RequestMapping(AccountsPage.ACCOUNTS)
class SecondFactorRules {

    private final CurrentClinic clinic;
    private final SecondFactorCheck factors;
    private final OwnPasswordCheck ownPasswords;
    private final AccountsPage accountsPage;
    private final AccountPage accountPage;
    private final Edits edits;
    private final Messages messages;

    SecondFactorRules(
            CurrentClinic clinic,
            SecondFactorCheck factors,
            OwnPasswordCheck ownPasswords,
            AccountsPage accountsPage,
            AccountPage accountPage,
            Edits edits,
            Messages messages) {
        this.clinic = clinic;
        this.factors = factors;
        this.ownPasswords = ownPasswords;
        this.accountsPage = accountsPage;
        this.accountPage = accountPage;
        this.edits = edits;
        this.messages = messages;
    }

    /** Only a lead who has one asks it of the others, so that none is kept out by a rule nobody has tried. */
    @PostMapping("/second-factor")
    ModelAndView ask(
            @AuthenticationPrincipal SignedInUser.Person person,
            @RequestParam(defaultValue = "offered") String leads,
            @RequestParam(defaultValue = "") String ownPassword,
            @RequestParam(name = FormVersion.FIELD, defaultValue = "") String seen,
            RedirectAttributes redirect) {
        boolean must = leads.equals("must");
        Checks checks = new Checks(messages);
        if (must && !factors.has(person.accountId())) {
            checks.problem("secondFactor", "", "secondFactorOwn");
        }
        ownPasswords.check(checks, ownPassword);
        if (!checks.problems().isEmpty()) {
            return accountsPage.list(AccountForm.empty(), "", checks.problems(), HttpStatus.BAD_REQUEST);
        }
        edits.save(seen, accountsPage::leadsMustVersion, () -> {
                    factors.askOfLeads(clinic.id(), must);
                    return true;
                })
                .orElseThrow(Refused::changedMeanwhile);
        redirect.addFlashAttribute("notice", messages.say("account.factor.policy.done"));
        return new ModelAndView("redirect:" + AccountsPage.ACCOUNTS);
    }

    /** For a person who has lost the app and the recovery codes. */
    @PostMapping("/{id}/second-factor/remove")
    ModelAndView remove(
            @PathVariable UUID id, @RequestParam(defaultValue = "") String ownPassword, RedirectAttributes redirect) {
        Checks checks = new Checks(messages);
        accountPage.account(id);
        ownPasswords.check(checks, ownPassword);
        if (!checks.problems().isEmpty()) {
            return accountPage.refused(id, checks.problems());
        }
        if (!factors.remove(clinic.id(), id)) {
            throw Refused.notFound("account");
        }
        redirect.addFlashAttribute("notice", messages.say("account.factor.removed"));
        return new ModelAndView("redirect:" + AccountsPage.ACCOUNTS);
    }
}
