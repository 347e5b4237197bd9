package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import com.zaxxer.hikari.HikariDataSource;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.Schema;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.autoconfigure.ImportAutoConfiguration;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.Import;

/**
 * Every table takes rows, and judges them by every check of its own, after the pool has closed the connections it had
 * when the migrations ran.
 */
class RetiredConnectionsTest {

    private static final String EARLIER_VERSION = "6";
    private static final String[] TABLES = {"TABLE", "BASE TABLE"};
    private static final Pattern CONSTRAINT =
            Pattern.compile("constraint (?:violation: )?\"(\\w+)[:\"]", Pattern.CASE_INSENSITIVE);

    @ImportAutoConfiguration({DataSourceAutoConfiguration.class, FlywayAutoConfiguration.class})
    @Import({Migrations.class, DataFolder.class})
    static class Database {}

    @TempDir
    private Path folder;

    @Test
    void do_not_matter_in_a_new_file() throws SQLException {
        every_table_takes_rows(file());
    }

    @Test
    void do_not_matter_in_a_file_of_an_earlier_version() throws SQLException {
        Schema.of("h2")
                .dataSource(file(), "sa", "")
                .target(EARLIER_VERSION)
                .load()
                .migrate();
        every_table_takes_rows(file());
    }

    @Test
    void do_not_matter_in_a_file_that_stays_open_without_connections() throws SQLException {
        every_table_takes_rows(file() + ";DB_CLOSE_DELAY=-1");
    }

    @Test
    void do_not_matter_in_memory() throws SQLException {
        every_table_takes_rows("jdbc:h2:mem:" + UUID.randomUUID() + ";DB_CLOSE_DELAY=-1");
    }

    @Test
    void do_not_matter_on_PostgreSQL() throws SQLException {
        every_table_takes_rows(PostgresServer.newDatabase());
    }

    private String file() {
        return "jdbc:h2:file:" + folder.resolve("db") + ";WRITE_DELAY=0;LOCK_TIMEOUT=10000";
    }

    private static void every_table_takes_rows(String url) throws SQLException {
        boolean h2 = url.startsWith("jdbc:h2:");
        try (ConfigurableApplicationContext program = new SpringApplicationBuilder(Database.class)
                .web(WebApplicationType.NONE)
                .run(
                        "--spring.datasource.url=" + url,
                        "--spring.datasource.username=" + (h2 ? "sa" : PostgresServer.user()),
                        "--spring.datasource.password=" + (h2 ? "" : PostgresServer.password()))) {
            HikariDataSource pool = program.getBean(HikariDataSource.class);
            List<Integer> first = sessions(pool, h2);
            // A day's work never closes all connections at once, which would close a file.
            try (Connection open = DriverManager.getConnection(url, pool.getUsername(), pool.getPassword())) {
                assertThat(open.isValid(1)).isTrue();
                pool.getHikariPoolMXBean().softEvictConnections();
                assertThat(sessions(pool, h2)).isNotEmpty().doesNotContainAnyElementsOf(first);
            }
            try (Connection connection = pool.getConnection()) {
                Map<String, Integer> refusals = new Rows(connection, h2).refusalsByTable();
                assertThat(refusals).hasSizeGreaterThan(60);
                assertThat(refusals.values().stream()
                                .mapToInt(Integer::intValue)
                                .sum())
                        .isGreaterThan(60);
            }
        }
    }

    /** The sessions behind as many connections as the pool can hold idle at once, by the database's own numbers. */
    private static List<Integer> sessions(HikariDataSource pool, boolean h2) throws SQLException {
        List<Integer> sessions = new ArrayList<>();
        List<Connection> held = new ArrayList<>();
        try {
            for (int i = 0; i < pool.getMaximumPoolSize(); i++) {
                Connection connection = pool.getConnection();
                held.add(connection);
                try (Statement statement = connection.createStatement();
                        ResultSet row =
                                statement.executeQuery(h2 ? "select session_id()" : "select pg_backend_pid()")) {
                    row.next();
                    sessions.add(row.getInt(1));
                }
            }
        } finally {
            for (Connection connection : held) {
                connection.close();
            }
        }
        return sessions;
    }

    /** Puts a row into every table; a check that refuses it has been judged, and is removed for the next try. */
    private record Rows(Connection connection, boolean h2) {

        Map<String, Integer> refusalsByTable() throws SQLException {
            run(h2 ? "set referential_integrity false" : "set session_replication_role = replica");
            Map<String, Integer> refusals = new TreeMap<>();
            DatabaseMetaData known = connection.getMetaData();
            try (ResultSet tables = known.getTables(null, h2 ? "PUBLIC" : "public", "%", TABLES)) {
                while (tables.next()) {
                    String table = tables.getString("TABLE_NAME");
                    String insert = insert(known, table);
                    int refused = 0;
                    for (Optional<String> check = refusing(insert); check.isPresent(); check = refusing(insert)) {
                        run("alter table \"" + table + "\" drop constraint \"" + check.get() + "\"");
                        refused++;
                    }
                    refusals.put(table, refused);
                }
            }
            return refusals;
        }

        private void run(String sql) throws SQLException {
            try (Statement statement = connection.createStatement()) {
                statement.execute(sql);
            }
        }

        /** The check that refuses the row; empty if the row is in. */
        private Optional<String> refusing(String insert) throws SQLException {
            try {
                run(insert);
                return Optional.empty();
            } catch (SQLException e) {
                if (e.getSQLState().equals(h2 ? "23513" : "23514")) {
                    Matcher name = CONSTRAINT.matcher(e.getMessage());
                    assertThat(name.find()).as(e.getMessage()).isTrue();
                    return Optional.of(name.group(1));
                }
                throw e;
            }
        }

        private String insert(DatabaseMetaData known, String table) throws SQLException {
            List<String> names = new ArrayList<>();
            List<String> values = new ArrayList<>();
            try (ResultSet columns = known.getColumns(null, h2 ? "PUBLIC" : "public", table, "%")) {
                while (columns.next()) {
                    if (!columns.getString("IS_AUTOINCREMENT").equals("YES")
                            && !columns.getString("IS_GENERATEDCOLUMN").equals("YES")) {
                        names.add('"' + columns.getString("COLUMN_NAME") + '"');
                        values.add(value(columns.getString("TYPE_NAME").toLowerCase(Locale.ROOT)));
                    }
                }
            }
            return "insert into \"" + table + "\" (" + String.join(", ", names) + ") values ("
                    + String.join(", ", values) + ")";
        }

        private String value(String type) {
            if (type.contains("char") || type.contains("text")) {
                return "'x'";
            }
            if (type.startsWith("timestamp")) {
                return "timestamp with time zone '2026-03-03 09:00:00+00'";
            }
            return switch (type) {
                case "uuid" -> "'" + UUID.randomUUID() + "'";
                case "bool", "boolean" -> "true";
                case "date" -> "date '2026-03-03'";
                case "time" -> "time '09:00:00'";
                case "bytea" -> "'\\x00'";
                case "binary varying", "binary large object" -> "X'00'";
                default -> "999";
            };
        }
    }
}
