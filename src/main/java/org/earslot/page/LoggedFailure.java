package org.earslot.page;

import java.sql.SQLException;
import org.jspecify.annotations.Nullable;

/**
 * A failure as the log may show it. Messages of our own code are shown: they carry no patient's details. Messages of
 * drivers and libraries are left out, since those may repeat what was typed about a patient.
 */
public final class LoggedFailure extends Exception {

    private static final String OURS = "org.earslot.";
    private static final int DEEPEST = 10;

    private LoggedFailure(String kind, @Nullable Throwable cause, StackTraceElement[] trace) {
        super(kind, cause);
        setStackTrace(trace);
    }

    /** Kinds, traces and our own messages of a failure and its causes. */
    public static LoggedFailure of(Throwable thrown) {
        return of(thrown, 0);
    }

    private static LoggedFailure of(Throwable thrown, int depth) {
        Throwable cause = thrown.getCause();
        return new LoggedFailure(
                kind(thrown), cause == null || depth == DEEPEST ? null : of(cause, depth + 1), thrown.getStackTrace());
    }

    private static String kind(Throwable thrown) {
        String name = thrown.getClass().getName();
        if (thrown instanceof SQLException sql) {
            return name + " SQLState " + sql.getSQLState();
        }
        return isOurs(thrown) ? name + ": " + thrown.getMessage() : name;
    }

    /** Thrown by our own code, with a message that was not taken from the cause. */
    private static boolean isOurs(Throwable thrown) {
        StackTraceElement[] trace = thrown.getStackTrace();
        String message = thrown.getMessage();
        Throwable cause = thrown.getCause();
        return message != null
                && trace.length > 0
                && trace[0].getClassName().startsWith(OURS)
                && (cause == null || !message.contains(String.valueOf(cause.getMessage())));
    }

    /** Without the name of this class, which says nothing. */
    @Override
    public String toString() {
        return String.valueOf(getMessage());
    }
}
