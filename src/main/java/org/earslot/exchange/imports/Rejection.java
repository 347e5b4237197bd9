package org.earslot.exchange.imports;

import org.earslot.exchange.csv.FieldError;

/**
 * One fault of a rejected line.
 *
 * @param line where the line begins in the file; the header is line 1
 * @param rowRef the line's own id; empty where it cannot be read
 * @param raw the line as it stands in the file, cut where it is very long; only with the first fault of a line
 */
public record Rejection(long line, String rowRef, FieldError fault, String raw) {}
