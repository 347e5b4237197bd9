package org.earslot.account.web;

import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.account.Account;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Accounts;
import org.earslot.account.IntegrationKeys;
import org.earslot.account.Role;
import org.earslot.account.SecondFactorCheck;
import org.earslot.account.SignInLimits;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioners;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The clinic's accounts: who signs in, in which role. */
@Controller
class AccountsPage {

    static final String ACCOUNTS = "/accounts";
    private static final String ACCOUNT = ACCOUNTS + "/{id}";
    private static final String BACK = "redirect:" + ACCOUNTS;

    private final CurrentClinic clinic;
    private final Accounts accounts;
    private final IntegrationKeys keys;
    private final Practitioners practitioners;
    private final AccountAdministration accountAdministration;
    private final Edits edits;
    private final Messages messages;
    private final Clock clock;
    private final SignInLimits limits;
    private final OwnPasswordCheck ownPasswords;
    private final ClinicClock zones;
    private final Clinics clinics;
    private final SecondFactorCheck factors;

    AccountsPage(
            CurrentClinic clinic,
            Accounts accounts,
            IntegrationKeys keys,
            Practitioners practitioners,
            AccountAdministration accountAdministration,
            Edits edits,
            Messages messages,
            Clock clock,
            SignInLimits limits,
            OwnPasswordCheck ownPasswords,
            ClinicClock zones,
            Clinics clinics,
            SecondFactorCheck factors) {
        this.clinic = clinic;
        this.accounts = accounts;
        this.keys = keys;
        this.practitioners = practitioners;
        this.accountAdministration = accountAdministration;
        this.edits = edits;
        this.messages = messages;
        this.clock = clock;
        this.limits = limits;
        this.ownPasswords = ownPasswords;
        this.zones = zones;
        this.clinics = clinics;
        this.factors = factors;
    }

    @GetMapping(ACCOUNTS)
    ModelAndView list() {
        return list(AccountForm.empty(), "", List.of(), HttpStatus.OK);
    }

    @PostMapping(ACCOUNTS)
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
                checks.refuse("signInName", signInName, "taken");
            }
            return list(form, "", checks.problems(), HttpStatus.BAD_REQUEST);
        }
        redirect.addFlashAttribute("handed", handed.get());
        return new ModelAndView(BACK);
    }

    @GetMapping(ACCOUNT)
    ModelAndView one(@PathVariable UUID id) {
        Account account = account(id);
        return one(account, AccountForm.of(account), List.of(), HttpStatus.OK);
    }

    @PostMapping(ACCOUNT)
    ModelAndView assign(
            @PathVariable UUID id,
            @ModelAttribute AccountForm form,
            @RequestParam(name = FormVersion.FIELD, defaultValue = "") String seen,
            RedirectAttributes redirect) {
        Account account = account(id);
        Checks checks = new Checks(messages);
        AccountForm.Assignment assignment = form.assignment(checks, clinic.id(), practitioners);
        if (!checks.problems().isEmpty()) {
            return one(account, form, checks.problems(), HttpStatus.BAD_REQUEST);
        }
        Optional<AccountAdministration.Change> change = edits.save(
                seen,
                () -> AccountForm.version(account(id)),
                () -> accountAdministration.assign(clinic.id(), id, assignment.role(), assignment.practitionerId()));
        if (change.isEmpty()) {
            Account now = account(id);
            String role = messages.say("Role." + now.role().code());
            return one(now, form, List.of(), HttpStatus.CONFLICT)
                    .addObject("changes", List.of(new ChangedField(messages.say("account.role"), role, false)));
        }
        return changed(change.get(), account, redirect);
    }

    @PostMapping(ACCOUNT + "/deactivate")
    ModelAndView deactivate(@PathVariable UUID id, RedirectAttributes redirect) {
        Account account = account(id);
        return changed(accountAdministration.deactivate(clinic.id(), id), account, redirect);
    }

    @PostMapping(ACCOUNT + "/reactivate")
    ModelAndView reactivate(@PathVariable UUID id, RedirectAttributes redirect) {
        Account account = account(id);
        return changed(accountAdministration.reactivate(clinic.id(), id), account, redirect);
    }

    @PostMapping(ACCOUNT + "/new-password")
    ModelAndView newPassword(
            @PathVariable UUID id, @RequestParam(defaultValue = "") String ownPassword, RedirectAttributes redirect) {
        Account account = account(id);
        Checks checks = new Checks(messages);
        ownPasswords.check(checks, ownPassword);
        if (!checks.problems().isEmpty()) {
            return one(account, AccountForm.of(account), checks.problems(), HttpStatus.BAD_REQUEST);
        }
        redirect.addFlashAttribute(
                "handed", accountAdministration.handNewPassword(clinic.id(), id).orElseThrow(AccountsPage::notThere));
        return new ModelAndView(BACK);
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
        ModelAndView page = new ModelAndView("account/accounts", status);
        page.addObject("accounts", accounts.findByClinicIdOrderBySignInName(clinic.id()));
        page.addObject("now", clock.instant());
        page.addObject("zone", zones.zone(clinic.id()));
        page.addObject("leadsMust", leadsMust());
        page.addObject("leadsMustVersion", leadsMustVersion());
        page.addObject("handedFor", limits.handedPassword());
        page.addObject("keys", keys.findByClinicIdOrderByName(clinic.id()));
        page.addObject("form", form);
        page.addObject("programName", programName);
        page.addObject("problems", problems);
        return withChoices(page);
    }

    private ModelAndView one(Account account, AccountForm form, List<Problem> problems, HttpStatusCode status) {
        ModelAndView page = new ModelAndView("account/account", status);
        page.addObject("account", account);
        page.addObject("version", AccountForm.version(account));
        page.addObject("hasSecondFactor", factors.has(account.id()));
        page.addObject("form", form);
        page.addObject("problems", problems);
        return withChoices(page);
    }

    private ModelAndView withChoices(ModelAndView page) {
        page.addObject("roles", Role.values());
        page.addObject("practitioners", practitioners.findByClinicIdOrderByName(clinic.id()));
        return page;
    }

    private ModelAndView changed(AccountAdministration.Change change, Account account, RedirectAttributes redirect) {
        return switch (change) {
            case DONE -> {
                redirect.addFlashAttribute("notice", messages.say("account.changed", account.signInName()));
                yield new ModelAndView(BACK);
            }
            case NOT_THERE -> throw notThere();
            case LAST_LEAD -> {
                Problem problem =
                        Checks.problem(messages, "role", account.role().code(), "lastLead");
                yield one(account, AccountForm.of(account), List.of(problem), HttpStatus.CONFLICT);
            }
        };
    }

    ModelAndView one(UUID id, List<Problem> problems) {
        Account account = account(id);
        return one(account, AccountForm.of(account), problems, HttpStatus.BAD_REQUEST);
    }

    Account account(UUID id) {
        return accounts.findByClinicIdAndId(clinic.id(), id).orElseThrow(AccountsPage::notThere);
    }

    private static Refused notThere() {
        return Refused.notFound("account");
    }
}
