package org.earslot.account;

import java.io.PrintStream;
import java.sql.SQLException;
import java.time.Clock;
import java.util.List;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.springframework.boot.Banner;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.ImportAutoConfiguration;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.boot.data.jpa.autoconfigure.DataJpaRepositoriesAutoConfiguration;
import org.springframework.boot.hibernate.autoconfigure.HibernateJpaAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcClientAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcTemplateAutoConfiguration;
import org.springframework.boot.persistence.autoconfigure.EntityScan;
import org.springframework.boot.transaction.autoconfigure.TransactionAutoConfiguration;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;
import org.springframework.context.annotation.Import;
import org.springframework.context.event.EventListener;
import org.springframework.data.jpa.repository.config.EnableJpaRepositories;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Lets a lead in again who has forgotten the password: {@code java -jar earslot.jar reset-lead [SIGN-IN-NAME]}, on the
 * server, with the same settings as the program. Whoever may run it may read the database anyway.
 */
public final class ResetLeadCommand {

    /** The word after which the rest of the line is this command's. */
    public static final String NAME = "reset-lead";

    private static final String SETTING = "--";
    /** H2's code of a file that another process has open. */
    private static final int IN_USE = 90020;

    private final PrintStream out;
    private final PrintStream problems;

    /**
     * @param out where the new password goes
     * @param problems where refusals go
     */
    public ResetLeadCommand(PrintStream out, PrintStream problems) {
        this.out = out;
        this.problems = problems;
    }

    /**
     * @param arguments a lead's sign-in name, needed only if there are several, and settings as the program takes them
     * @return 0 done, 1 the database cannot be used, 2 wrongly asked
     */
    public int run(List<String> arguments) {
        List<String> names =
                arguments.stream().filter(word -> !word.startsWith(SETTING)).toList();
        String[] settings =
                arguments.stream().filter(word -> word.startsWith(SETTING)).toArray(String[]::new);
        if (names.size() > 1) {
            problems.println("usage: reset-lead [SIGN-IN-NAME]");
            return 2;
        }
        try (ConfigurableApplicationContext database = new SpringApplicationBuilder(Database.class)
                .web(WebApplicationType.NONE)
                .bannerMode(Banner.Mode.OFF)
                .logStartupInfo(false)
                .registerShutdownHook(false)
                .properties("logging.level.root=OFF")
                .run(settings)) {
            return reset(database, names);
        } catch (RuntimeException e) {
            problems.println(why(e));
            return 1;
        }
    }

    private int reset(ConfigurableApplicationContext database, List<String> names) {
        Accounts accounts = database.getBean(Accounts.class);
        AccountAdministration admission = database.getBean(AccountAdministration.class);
        List<Account> leads = accounts.findAll().stream()
                .filter(account -> account.role() == Role.LEAD)
                .filter(account -> names.isEmpty() || account.signInName().equals(Account.plain(names.get(0))))
                .toList();
        if (leads.size() != 1) {
            problems.println(
                    leads.isEmpty()
                            ? "There is no such lead. Name a lead by the sign-in name."
                            : "There are several leads. Name one of: "
                                    + leads.stream().map(Account::signInName).collect(Collectors.joining(", ")));
            return 2;
        }
        Account lead = leads.get(0);
        if (!lead.active()) {
            admission.reactivate(lead.clinicId(), lead.id());
        }
        database.getBean(SecondFactorCheck.class).remove(lead.clinicId(), lead.id());
        AccountAdministration.Handed handed =
                admission.handNewPassword(lead.clinicId(), lead.id()).orElseThrow();
        out.println("Password for " + handed.signInName() + ": " + handed.password());
        out.println("It serves for three days and must be changed at the sign-in. Open sessions have ended,"
                + " and a second factor has been removed.");
        return 0;
    }

    static String why(Throwable failure) {
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLException refused && refused.getErrorCode() == IN_USE) {
                return "The database is in use. Stop the program first, then run this again.";
            }
        }
        return "The database cannot be used. Check EARSLOT_DB_URL, and start the program once if it is new: "
                + failure.getClass().getSimpleName();
    }

    /** The accounts and the audit trail of the database, without a server. */
    @ImportAutoConfiguration({
        DataSourceAutoConfiguration.class,
        JdbcTemplateAutoConfiguration.class,
        JdbcClientAutoConfiguration.class,
        HibernateJpaAutoConfiguration.class,
        DataJpaRepositoriesAutoConfiguration.class,
        TransactionAutoConfiguration.class
    })
    @EntityScan({"org.earslot.account", "org.earslot.clinic"})
    @EnableJpaRepositories(
            basePackages = {"org.earslot.account", "org.earslot.clinic"},
            nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
    @EnableConfigurationProperties(SignInLimits.class)
    @Import({
        Passwords.class,
        AccountAdministration.class,
        AuditTrail.class,
        ClinicClock.class,
        SecondFactorCheck.class,
        SignInPace.class
    })
    static class Database {

        private final JdbcClient jdbc;

        Database(JdbcClient jdbc) {
            this.jdbc = jdbc;
        }

        @Bean
        static Clock clock() {
            return Clock.systemUTC();
        }

        @EventListener
        void endSessions(SessionsRevoked ended) {
            jdbc.sql("delete from spring_session where principal_name = ?")
                    .param(ended.signInName())
                    .update();
        }
    }
}
