package org.earslot.exchange.imports;

import java.util.List;
import org.earslot.exchange.csv.FieldError;
import org.earslot.exchange.csv.UnreadableFile;

/** So many lines of a file cannot go in that nothing of it does. */
final class TooManyRejected extends RuntimeException {

    private final long line;

    /** @param line where reading stopped */
    TooManyRejected(long line) {
        this.line = line;
    }

    /** What is said of the file. */
    UnreadableFile told() {
        String reason = String.format(
                "more than %,d lines cannot go in; reading stopped at line %d and nothing of the file went in",
                ImportResult.REJECTED_AT_MOST, line);
        return new UnreadableFile(
                List.of(new FieldError("", "", reason, "check the headings, and send a few lines as a dry run first")));
    }
}
