package org.earslot.account.web;

import java.io.Serializable;
import java.util.Optional;
import java.util.UUID;
import org.earslot.account.Programs;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Refused;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The keys of other programs, on the page of the accounts. */
@Controller
class ProgramsPage {

    private static final String PROGRAMS = AccountsPage.ACCOUNTS + "/integrations";

    private final CurrentClinic clinic;
    private final Programs programs;
    private final AccountsPage accountsPage;
    private final Wording wording;

    ProgramsPage(CurrentClinic clinic, Programs programs, AccountsPage accountsPage, Wording wording) {
        this.clinic = clinic;
        this.programs = programs;
        this.accountsPage = accountsPage;
        this.wording = wording;
    }

    /** A key to hand over, shown once. */
    public record Key(String name, String key) implements Serializable {}

    @PostMapping(PROGRAMS)
    ModelAndView admit(@RequestParam(defaultValue = "") String programName, RedirectAttributes redirect) {
        Checks checks = new Checks(wording);
        String name = checks.signInName(programName);
        if (!checks.problems().isEmpty()) {
            return refused(programName, checks);
        }
        Optional<String> key = programs.admit(clinic.id(), name);
        if (key.isEmpty()) {
            checks.refuse("signInName", name, "taken");
            return refused(programName, checks);
        }
        redirect.addFlashAttribute("key", new Key(name, key.get()));
        return new ModelAndView("redirect:" + AccountsPage.ACCOUNTS);
    }

    @PostMapping(PROGRAMS + "/{id}/withdraw")
    String withdraw(@PathVariable UUID id, RedirectAttributes redirect) {
        if (!programs.withdraw(clinic.id(), id)) {
            throw Refused.notFound("integration");
        }
        redirect.addFlashAttribute("notice", wording.say("account.program.withdrawnNow"));
        return "redirect:" + AccountsPage.ACCOUNTS;
    }

    private ModelAndView refused(String programName, Checks checks) {
        return accountsPage.list(AccountForm.empty(), programName, checks.problems(), HttpStatus.BAD_REQUEST);
    }
}
