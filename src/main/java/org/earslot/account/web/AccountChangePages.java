package org.earslot.account.web;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.account.Account;
import org.earslot.account.AccountAdministration;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioners;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One account: its role, its password, whether it may sign in. */
@Controller
class AccountChangePages {

    private static final String ACCOUNT = AccountsPage.ACCOUNTS + "/{id}";
    private static final String BACK = "redirect:" + AccountsPage.ACCOUNTS;

    private final AccountPage page;
    private final CurrentClinic clinic;
    private final Practitioners practitioners;
    private final AccountAdministration accountAdministration;
    private final Edits edits;
    private final OwnPasswordCheck ownPasswords;
    private final Messages messages;

    AccountChangePages(
            AccountPage page,
            CurrentClinic clinic,
            Practitioners practitioners,
            AccountAdministration accountAdministration,
            Edits edits,
            OwnPasswordCheck ownPasswords,
            Messages messages) {
        this.page = page;
        this.clinic = clinic;
        this.practitioners = practitioners;
        this.accountAdministration = accountAdministration;
        this.edits = edits;
        this.ownPasswords = ownPasswords;
        this.messages = messages;
    }

    @GetMapping(ACCOUNT)
    ModelAndView one(@PathVariable UUID id) {
        Account account = page.account(id);
        return page.show(account, AccountForm.of(account), List.of(), HttpStatus.OK);
    }

    @PostMapping(ACCOUNT)
    ModelAndView assign(
            @PathVariable UUID id,
            @ModelAttribute AccountForm form,
            @RequestParam(name = FormVersion.FIELD, defaultValue = "") String seen,
            RedirectAttributes redirect) {
        Account account = page.account(id);
        Checks checks = new Checks(messages);
        AccountForm.Assignment assignment = form.assignment(checks, clinic.id(), practitioners);
        if (!checks.problems().isEmpty()) {
            return page.show(account, form, checks.problems(), HttpStatus.BAD_REQUEST);
        }
        Optional<AccountAdministration.Change> change = edits.save(
                seen,
                () -> AccountForm.version(page.account(id)),
                () -> accountAdministration.assign(clinic.id(), id, assignment.role(), assignment.practitionerId()));
        if (change.isEmpty()) {
            Account now = page.account(id);
            String role = messages.say("Role." + now.role().code());
            return page.show(now, form, List.of(), HttpStatus.CONFLICT)
                    .addObject("changes", List.of(new ChangedField(messages.say("account.role"), role, false)));
        }
        return changed(change.get(), account, redirect);
    }

    @PostMapping(ACCOUNT + "/deactivate")
    ModelAndView deactivate(@PathVariable UUID id, RedirectAttributes redirect) {
        Account account = page.account(id);
        return changed(accountAdministration.deactivate(clinic.id(), id), account, redirect);
    }

    @PostMapping(ACCOUNT + "/reactivate")
    ModelAndView reactivate(@PathVariable UUID id, RedirectAttributes redirect) {
        Account account = page.account(id);
        return changed(accountAdministration.reactivate(clinic.id(), id), account, redirect);
    }

    @PostMapping(ACCOUNT + "/new-password")
    ModelAndView newPassword(
            @PathVariable UUID id, @RequestParam(defaultValue = "") String ownPassword, RedirectAttributes redirect) {
        Account account = page.account(id);
        Checks checks = new Checks(messages);
        ownPasswords.check(checks, ownPassword);
        if (!checks.problems().isEmpty()) {
            return page.show(account, AccountForm.of(account), checks.problems(), HttpStatus.BAD_REQUEST);
        }
        redirect.addFlashAttribute(
                "handed", accountAdministration.handNewPassword(clinic.id(), id).orElseThrow(AccountPage::notThere));
        return new ModelAndView(BACK);
    }

    private ModelAndView changed(AccountAdministration.Change change, Account account, RedirectAttributes redirect) {
        return switch (change) {
            case DONE -> {
                redirect.addFlashAttribute("notice", messages.say("account.changed", account.signInName()));
                yield new ModelAndView(BACK);
            }
            case NOT_THERE -> throw AccountPage.notThere();
            case LAST_LEAD -> {
                Problem problem =
                        Checks.problem(messages, "role", account.role().code(), "lastLead");
                yield page.show(account, AccountForm.of(account), List.of(problem), HttpStatus.CONFLICT);
            }
        };
    }
}
