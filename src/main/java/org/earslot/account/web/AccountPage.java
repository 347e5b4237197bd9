package org.earslot.account.web;

import java.util.List;
import java.util.UUID;
import org.earslot.account.Account;
import org.earslot.account.Accounts;
import org.earslot.account.Role;
import org.earslot.account.SecondFactorCheck;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioners;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** The page of one account, shown again when something on it is refused. */
@Component
class AccountPage {

    private final CurrentClinic clinic;
    private final Accounts accounts;
    private final Practitioners practitioners;
    private final SecondFactorCheck factors;

    AccountPage(CurrentClinic clinic, Accounts accounts, Practitioners practitioners, SecondFactorCheck factors) {
        this.clinic = clinic;
        this.accounts = accounts;
        this.practitioners = practitioners;
        this.factors = factors;
    }

    ModelAndView show(Account account, AccountForm form, List<Problem> problems, HttpStatusCode status) {
        ModelAndView page = new ModelAndView("account/account", status);
        page.addObject("account", account);
        page.addObject("version", AccountForm.version(account));
        page.addObject("hasSecondFactor", factors.has(account.id()));
        page.addObject("form", form);
        page.addObject("problems", problems);
        return withChoices(page);
    }

    ModelAndView refused(UUID id, List<Problem> problems) {
        Account account = account(id);
        return show(account, AccountForm.of(account), problems, HttpStatus.BAD_REQUEST);
    }

    /** Adds what a role and a practitioner are chosen from. */
    ModelAndView withChoices(ModelAndView page) {
        page.addObject("roles", Role.values());
        page.addObject("practitioners", practitioners.findByClinicIdOrderByName(clinic.id()));
        return page;
    }

    Account account(UUID id) {
        return accounts.findByClinicIdAndId(clinic.id(), id).orElseThrow(AccountPage::notThere);
    }

    static Refused notThere() {
        return Refused.notFound("account");
    }
}
