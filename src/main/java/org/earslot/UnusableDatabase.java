package org.earslot;

import java.util.Arrays;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.exception.FlywayValidateException;
import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** The tables of this database are not those that the migrations make; nothing in it was changed. */
class UnusableDatabase extends RuntimeException {

    private final String remedy;

    private UnusableDatabase(String what, String remedy, FlywayValidateException cause) {
        super(what, cause);
        this.remedy = remedy;
    }

    /**
     * @param applied the migrations that the database has had
     * @param cause why they are not those of this program
     */
    static UnusableDatabase with(MigrationInfo[] applied, FlywayValidateException cause) {
        if (Arrays.stream(applied).anyMatch(migration -> migration.getState().isFailed())) {
            return new UnusableDatabase(
                    "An earlier start could not make all tables of this database, and left it half made.",
                    "Restore the backup made before that start. If the database was new, delete it and start again.",
                    cause);
        }
        return new UnusableDatabase(
                "This database was made before the first release and cannot be upgraded. It was left as it is.",
                "Start the program that made it, and export its visits and its bookings."
                        + " Then set EARSLOT_DB_URL to a new database, start this program, and import both files.",
                cause);
    }

    /** Says it without a stack trace, and what to do. */
    static class Analyzer extends AbstractFailureAnalyzer<UnusableDatabase> {
        @Override
        protected FailureAnalysis analyze(Throwable rootFailure, UnusableDatabase cause) {
            return new FailureAnalysis(cause.getMessage(), cause.remedy, cause);
        }
    }
}
