package org.earslot;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.flywaydb.core.api.exception.FlywayValidateException;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.flyway.autoconfigure.FlywayConfigurationCustomizer;
import org.springframework.boot.flyway.autoconfigure.FlywayMigrationStrategy;
import org.springframework.jdbc.datasource.AbstractDataSource;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;
import org.springframework.stereotype.Component;

/**
 * Migrates H2 over connections of its own. A check constraint of H2 such as {@code x in ('a', 'b')} refers to the
 * connection that created it and fails once that connection is closed; a constraint read from the file does not. So the
 * file is closed after a migration and opened again by the pool. A database in memory would be lost by closing, so its
 * migration connections stay open as long as the program runs. Other databases are migrated over the pool.
 */
@Component
class Migrations implements FlywayConfigurationCustomizer, FlywayMigrationStrategy, DisposableBean {

    private final OwnConnections connections;
    private final DataFolder folder;

    Migrations(
            @Value("${spring.datasource.url}") String url,
            @Value("${spring.datasource.username:}") String user,
            @Value("${spring.datasource.password:}") String password,
            DataFolder folder) {
        connections = new OwnConnections(url, user, password);
        this.folder = folder;
    }

    @Override
    public void customize(FluentConfiguration configuration) {
        if (connections.url.startsWith("jdbc:h2:")) {
            configuration.dataSource(connections);
        }
    }

    @Override
    public void migrate(Flyway flyway) {
        boolean changed = changes(flyway);
        if (flyway.getConfiguration().getDataSource() == connections && changed) {
            closeFile();
        }
        folder.protectFiles();
    }

    /** Whether anything had to be migrated. */
    private static boolean changes(Flyway flyway) {
        try {
            return flyway.migrate().migrationsExecuted > 0;
        } catch (FlywayValidateException e) {
            throw UnusableDatabase.with(flyway.info().applied(), e);
        }
    }

    private void closeFile() {
        try (Connection connection = connections.getConnection();
                Statement statement = connection.createStatement()) {
            if (isFile(statement)) {
                statement.execute("shutdown");
                connections.close();
            }
        } catch (SQLException e) {
            throw new IllegalStateException("the database cannot be closed after its migration", e);
        }
    }

    private static boolean isFile(Statement statement) throws SQLException {
        try (ResultSet path = statement.executeQuery("select database_path()")) {
            return path.next() && path.getString(1) != null;
        }
    }

    @Override
    public void destroy() {
        connections.close();
    }

    /** Connections that stay open until all are closed together. */
    private static final class OwnConnections extends AbstractDataSource {

        private final String url;
        private final String user;
        private final String password;
        private final List<SingleConnectionDataSource> opened = new ArrayList<>();

        OwnConnections(String url, String user, String password) {
            this.url = url;
            this.user = user;
            this.password = password;
        }

        @Override
        public Connection getConnection() throws SQLException {
            return getConnection(user, password);
        }

        @Override
        public synchronized Connection getConnection(String asUser, String withPassword) throws SQLException {
            SingleConnectionDataSource one = new SingleConnectionDataSource(url, asUser, withPassword, true);
            opened.add(one);
            return one.getConnection();
        }

        synchronized void close() {
            opened.forEach(SingleConnectionDataSource::destroy);
            opened.clear();
        }
    }
}
