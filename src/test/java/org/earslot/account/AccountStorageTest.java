package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import jakarta.servlet.http.Cookie;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** What this room keeps, on a real PostgreSQL: each line of the story uses its tables. */
@PageTestOnPostgres
class AccountStorageTest {

    private static final String PASSWORD = "four unrelated words here";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private FirstSignIn firstSignIn;

    @Autowired
    private Accounts accounts;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private AuditTrail trail;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private ApplicationEventPublisher events;

    @Test
    void serves_from_the_first_sign_in_to_the_audit_trail() throws Exception {
        accounts.deleteAll();
        String code = firstSignIn.newCode().orElseThrow().shown();
        String name = "lead-" + UUID.randomUUID();
        List<Boolean> begun = sideBySide(
                8,
                () -> firstSignIn.begin(
                        code,
                        new FirstSignIn.Beginning(
                                "Riverside ears",
                                ZoneId.of("Europe/London"),
                                new ClinicContact(null, null, null),
                                name,
                                "A lead",
                                PASSWORD)));
        assertThat(begun).containsOnlyOnce(true);
        Account lead = accounts.findBySignInName(name).orElseThrow();

        // Behind a real port the session's cookie has the name of the settings.
        Cookie session = mvc.perform(
                        post("/sign-in").with(csrf()).param("username", name).param("password", PASSWORD))
                .andExpect(redirectedUrl("/"))
                .andReturn()
                .getResponse()
                .getCookie("earslot");
        mvc.perform(get("/accounts").cookie(session)).andExpect(status().isOk());
        mvc.perform(get("/audit?day=2026-03-03&who=&kind=account").cookie(session))
                .andExpect(status().isOk());
        mvc.perform(get("/audit/export").cookie(session)).andExpect(status().isOk());
        assertThat(trail.latest(lead.clinicId(), new AuditTrail.Choice(null, "", "", ""), 0))
                .extracting(entry -> entry.who().equals(name) ? entry.action() : entry.who())
                .containsExactly("audit-exported", "signed-in", "clinic-opened");
        mvc.perform(post("/sign-out").cookie(session).with(csrf())).andExpect(redirectedUrl("/sign-in?out"));
    }

    @Test
    void keeps_one_lead_when_two_remove_each_other_at_the_same_time() throws Exception {
        ClinicId clinic = clinics.open().id();
        List<UUID> leads = new ArrayList<>();
        for (int i = 0; i < 2; i++) {
            String name = "n" + UUID.randomUUID();
            accountAdministration.admit(clinic, name, "A lead", Role.LEAD, null);
            leads.add(accounts.findBySignInName(name).orElseThrow().id());
        }
        List<Callable<AccountAdministration.Change>> removals = List.of(
                () -> accountAdministration.deactivate(clinic, leads.get(0)),
                () -> accountAdministration.deactivate(clinic, leads.get(1)));
        assertThat(sideBySide(removals))
                .containsExactlyInAnyOrder(AccountAdministration.Change.DONE, AccountAdministration.Change.LAST_LEAD);
        assertThat(accounts.findByClinicIdOrderBySignInName(clinic).stream().filter(Account::activeLead))
                .hasSize(1);
    }

    @Test
    void keeps_a_view_that_is_announced_while_reading() {
        ClinicId clinic = clinics.open().id();
        TransactionTemplate reading = new TransactionTemplate(transactions);
        reading.setReadOnly(true);
        reading.executeWithoutResult(
                view -> events.publishEvent(new Audited.Entry(clinic, "record-viewed", "patient", "K1", null)));
        assertThat(trail.latest(clinic, new AuditTrail.Choice(null, "", "", ""), 0))
                .hasSize(1);
    }

    private static <T> List<T> sideBySide(int times, Callable<T> work) throws Exception {
        return sideBySide(Collections.nCopies(times, work));
    }

    private static <T> List<T> sideBySide(List<Callable<T>> works) throws Exception {
        ExecutorService threads = Executors.newFixedThreadPool(works.size());
        try {
            List<T> results = new ArrayList<>();
            for (Future<T> result : threads.invokeAll(works)) {
                results.add(result.get());
            }
            return results;
        } finally {
            threads.shutdownNow();
        }
    }
}
