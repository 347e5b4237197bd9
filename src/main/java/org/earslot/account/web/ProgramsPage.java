package org.earslot.account.web;

import java.io.Serializable;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.earslot.account.Programs;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
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
    private final OwnPasswordCheck ownPasswords;
    private final ClinicClock clock;
    private final Messages messages;

    ProgramsPage(
            CurrentClinic clinic,
            Programs programs,
            AccountsPage accountsPage,
            OwnPasswordCheck ownPasswords,
            ClinicClock clock,
            Messages messages) {
        this.clinic = clinic;
        this.programs = programs;
        this.accountsPage = accountsPage;
        this.ownPasswords = ownPasswords;
        this.clock = clock;
        this.messages = messages;
    }

    /** A key to hand over, shown once. */
    public record Key(String name, String key) implements Serializable {}

    @PostMapping(PROGRAMS)
    ModelAndView admit(
            @RequestParam(defaultValue = "") String programName,
            @RequestParam(defaultValue = "read") String scope,
            @RequestParam(defaultValue = "") String lastDay,
            @RequestParam(defaultValue = "") String ownPassword,
            RedirectAttributes redirect) {
        Checks checks = new Checks(messages);
        String name = checks.signInName(programName);
        LocalDate today = clock.today(clinic.id());
        Reading reading = new Reading();
        LocalDate last =
                reading.date("lastDay", lastDay, today, today.plusYears(5)).orElse(null);
        if (!reading.clean()) {
            checks.problem("lastDay", lastDay, "lastDay");
        }
        ownPasswords.check(checks, ownPassword);
        if (!checks.problems().isEmpty()) {
            return refused(programName, checks);
        }
        Optional<String> key = programs.admit(clinic.id(), name, scope.equals("read_write"), last);
        if (key.isEmpty()) {
            checks.problem("signInName", name, "taken");
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
        redirect.addFlashAttribute("notice", messages.say("account.program.withdrawnNow"));
        return "redirect:" + AccountsPage.ACCOUNTS;
    }

    private ModelAndView refused(String programName, Checks checks) {
        return accountsPage.list(AccountForm.empty(), programName, checks.problems(), HttpStatus.BAD_REQUEST);
    }
}
