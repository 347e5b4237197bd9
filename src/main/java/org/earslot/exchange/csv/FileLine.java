package org.earslot.exchange.csv;

import org.jspecify.annotations.Nullable;

/**
 * One line of a file.
 *
 * @param text without the line end
 * @param end the line end; empty at the end of the file
 * @param breakage what makes it unreadable, if anything; the text is then only the like of what stands there
 */
record FileLine(
        long number, String text, String end, @Nullable MalformedRow breakage) {}
