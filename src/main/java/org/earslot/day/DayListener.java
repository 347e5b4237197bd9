package org.earslot.day;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Properties;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.postgresql.PGConnection;
import org.postgresql.PGNotification;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.SmartLifecycle;
import org.springframework.stereotype.Component;

/**
 * Listens on PostgreSQL for what other servers, and this one, have changed: by a connection of its own, since one of the
 * pool would be lost to it. Where the connection breaks it is opened again, and all screens look once more.
 */
@Component
class DayListener implements SmartLifecycle {

    private static final Logger LOG = LoggerFactory.getLogger(DayListener.class);
    private static final int WAIT_MILLIS = 20_000;
    private static final long RETRY_SECONDS = 3;

    private final DayNotices notices;
    private final JdbcConnectionDetails database;
    private volatile @Nullable Connection connection;
    private volatile CountDownLatch stopped = new CountDownLatch(0);

    DayListener(DayNotices notices, JdbcConnectionDetails database) {
        this.notices = notices;
        this.database = database;
    }

    @Override
    public void start() {
        stopped = new CountDownLatch(1);
        if (notices.byDatabase()) {
            Thread thread = new Thread(this::listen, "day-listener");
            thread.setDaemon(true);
            thread.start();
        }
    }

    @Override
    public void stop() {
        stopped.countDown();
        close();
    }

    @Override
    public boolean isRunning() {
        return stopped.getCount() > 0;
    }

    private void listen() {
        boolean again = false;
        while (isRunning()) {
            try (Connection opened = open()) {
                connection = opened;
                if (again) {
                    notices.missedSome();
                }
                passOn(opened);
            } catch (SQLException e) {
                if (isRunning()) {
                    LOG.warn("Notices of changed days are cut off ({}); trying again", e.getSQLState());
                }
            }
            again = true;
            pause();
        }
    }

    private Connection open() throws SQLException {
        Properties settings = new Properties();
        settings.setProperty("user", String.valueOf(database.getUsername()));
        settings.setProperty("password", String.valueOf(database.getPassword()));
        settings.setProperty("ApplicationName", "earslot day listener");
        settings.setProperty("tcpKeepAlive", "true");
        Connection opened = DriverManager.getConnection(database.getJdbcUrl(), settings);
        try (Statement statement = opened.createStatement()) {
            statement.execute("listen " + DayNotices.CHANNEL);
        }
        return opened;
    }

    private void passOn(Connection opened) throws SQLException {
        PGConnection wire = opened.unwrap(PGConnection.class);
        while (isRunning()) {
            PGNotification[] arrived = wire.getNotifications(WAIT_MILLIS);
            if (arrived == null || arrived.length == 0) {
                // A connection that died without a word is found out here.
                try (Statement statement = opened.createStatement()) {
                    statement.execute("select 1");
                }
                continue;
            }
            for (PGNotification notice : arrived) {
                notices.received(notice.getParameter());
            }
        }
    }

    private void pause() {
        try {
            stopped.await(RETRY_SECONDS, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            stopped.countDown();
        }
    }

    private void close() {
        Connection open = connection;
        if (open != null) {
            try {
                open.close();
            } catch (SQLException e) {
                LOG.debug("The listening connection was closed already");
            }
        }
    }
}
