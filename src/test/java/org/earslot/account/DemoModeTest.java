package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.Earslot;
import org.earslot.testing.Schema;
import org.junit.jupiter.api.Test;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.diagnostics.FailureAnalysis;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;

/** Demo access opens nothing but a demo: each mode refuses to start on the other's database. */
class DemoModeTest {

    private final String url = "jdbc:h2:mem:" + UUID.randomUUID() + ";DB_CLOSE_DELAY=-1";

    @Test
    void refuses_demo_mode_on_a_clinics_own_database() {
        holdsAClinic(false);
        assertThatThrownBy(() -> start("--spring.profiles.active=demo")).isInstanceOf(WrongMode.class);
    }

    @Test
    void refuses_normal_mode_on_the_demos_database() {
        holdsAClinic(true);
        assertThatThrownBy(this::start).isInstanceOf(WrongMode.class);
    }

    @Test
    void says_why_and_what_to_do() {
        FailureAnalysis said = new WrongModeAnalyzer().analyze(new IllegalStateException(new WrongMode("why", "what")));
        assertThat(said.getDescription()).isEqualTo("why");
        assertThat(said.getAction()).isEqualTo("what");
    }

    private void start(String... arguments) {
        String[] all = Stream.concat(
                        Stream.of(arguments), Stream.of("--spring.datasource.url=" + url, "--server.port=0"))
                .toArray(String[]::new);
        SpringApplication.run(Earslot.class, all).close();
    }

    private void holdsAClinic(boolean demo) {
        DriverManagerDataSource database = new DriverManagerDataSource(url, "sa", "");
        Schema.onH2(database).load().migrate();
        JdbcClient.create(database)
                .sql("insert into clinic (id, name, time_zone, created_at, demo)"
                        + " values (random_uuid(), 'Fernside', 'Europe/London', current_timestamp, ?)")
                .param(demo)
                .update();
    }
}
