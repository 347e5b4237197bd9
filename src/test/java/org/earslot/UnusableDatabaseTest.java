package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowable;

import java.nio.file.Path;
import java.util.List;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.Schema;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.exception.FlywayValidateException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.ImportAutoConfiguration;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;

/** A database with other tables than the program's is refused with a remedy, and not touched. */
@ExtendWith(OutputCaptureExtension.class)
class UnusableDatabaseTest {

    @ImportAutoConfiguration({DataSourceAutoConfiguration.class, FlywayAutoConfiguration.class})
    @Import({Migrations.class, DataFolder.class})
    static class Database {}

    @TempDir
    private Path folder;

    @Test
    void made_before_the_first_release_on_H2(CapturedOutput printed) {
        refuses_what_was_made_before_the_first_release(file(), printed);
    }

    @Test
    void made_before_the_first_release_on_PostgreSQL(CapturedOutput printed) {
        refuses_what_was_made_before_the_first_release(
                new DriverManagerDataSource(
                        PostgresServer.newDatabase(), PostgresServer.user(), PostgresServer.password()),
                printed);
    }

    @Test
    void left_half_made_by_a_start_that_failed(CapturedOutput printed) {
        DriverManagerDataSource database = file();
        Schema.onH2(database).target("3").load().migrate();
        JdbcClient.create(database)
                .sql("create table patient_merge (id integer)")
                .update();

        assertThat(start(database)).hasMessageContaining("PATIENT_MERGE");
        assertThat(printed).doesNotContain("half made");

        assertThat(start(database)).hasRootCauseInstanceOf(FlywayValidateException.class);
        assertThat(printed).contains("and left it half made.", "Action:\n\nRestore the backup made before that start.");
    }

    private static void refuses_what_was_made_before_the_first_release(
            DriverManagerDataSource database, CapturedOutput printed) {
        Flyway.configure()
                .dataSource(database)
                .locations("classpath:before-release")
                .load()
                .migrate();
        JdbcClient rows = JdbcClient.create(database);
        rows.sql(
                        "insert into clinic (id, name, time_zone, created_at)"
                                + " values ('6f0f3c8e-3d3a-4b3e-9d57-0f6f7b8c9d10', 'Fernside', 'Europe/London', current_timestamp)")
                .update();
        List<String> before = everything(rows);

        assertThat(start(database)).hasRootCauseInstanceOf(FlywayValidateException.class);

        assertThat(printed)
                .contains("This database was made before the first release and cannot be upgraded.")
                .contains("Action:\n\nStart the program that made it, and export its visits and its bookings.")
                .doesNotContain("\tat org.");
        assertThat(everything(rows)).hasSizeGreaterThan(10).isEqualTo(before);
    }

    /** The columns of all tables, the migrations and the clinic. */
    private static List<String> everything(JdbcClient rows) {
        return List.of(
                        "select table_name || ' ' || column_name from information_schema.columns"
                                + " where lower(table_schema) = 'public' order by table_name, column_name",
                        "select cast(\"installed_rank\" as varchar) || ' ' || \"version\" || ' ' || \"success\""
                                + " from \"flyway_schema_history\" order by \"installed_rank\"",
                        "select name || ' ' || created_at from clinic")
                .stream()
                .flatMap(question -> rows.sql(question).query(String.class).list().stream())
                .toList();
    }

    private DriverManagerDataSource file() {
        return new DriverManagerDataSource("jdbc:h2:file:" + folder.resolve("db"), "sa", "");
    }

    private static Throwable start(DriverManagerDataSource database) {
        return catchThrowable(() -> new SpringApplicationBuilder(Database.class)
                .web(WebApplicationType.NONE)
                .run(
                        "--spring.datasource.url=" + database.getUrl(),
                        "--spring.datasource.username=" + database.getUsername(),
                        "--spring.datasource.password=" + database.getPassword())
                .close());
    }
}
