package org.earslot.account.web;

import java.util.List;
import org.earslot.account.Accounts;
import org.earslot.account.IntegrationKeys;
import org.earslot.account.SignInLimits;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.FormVersion;
import org.earslot.page.Problem;
import org.springframework.http.HttpStatusCode;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** The page of the clinic's accounts and keys, shown again when something on it is refused. */
@Component
class AccountsPage {

    static final String ACCOUNTS = "/accounts";

    private final CurrentClinic clinic;
    private final Accounts accounts;
    private final IntegrationKeys keys;
    private final Clinics clinics;
    private final SignInLimits limits;
    private final ClinicClock clock;
    private final AccountPage page;

    AccountsPage(
            CurrentClinic clinic,
            Accounts accounts,
            IntegrationKeys keys,
            Clinics clinics,
            SignInLimits limits,
            ClinicClock clock,
            AccountPage page) {
        this.clinic = clinic;
        this.accounts = accounts;
        this.keys = keys;
        this.clinics = clinics;
        this.limits = limits;
        this.clock = clock;
        this.page = page;
    }

    private boolean leadsMust() {
        return clinics.findById(clinic.id()).orElseThrow().leadsNeedSecondFactor();
    }

    /** Of the form that says whether leads must have a second factor. */
    FormVersion leadsMustVersion() {
        return FormVersion.ofText(String.valueOf(leadsMust()));
    }

    /** The page with all accounts and keys, and the forms to add one of either. */
    ModelAndView list(AccountForm form, String programName, List<Problem> problems, HttpStatusCode status) {
        ModelAndView shown = new ModelAndView("account/accounts", status);
        shown.addObject("accounts", accounts.findByClinicIdOrderBySignInName(clinic.id()));
        shown.addObject("now", clock.now());
        shown.addObject("zone", clock.zone(clinic.id()));
        shown.addObject("leadsMust", leadsMust());
        shown.addObject("leadsMustVersion", leadsMustVersion());
        shown.addObject("handedFor", limits.handedPassword());
        shown.addObject("keys", keys.findByClinicIdOrderByName(clinic.id()));
        shown.addObject("form", form);
        shown.addObject("programName", programName);
        shown.addObject("problems", problems);
        return page.withChoices(shown);
    }
}
