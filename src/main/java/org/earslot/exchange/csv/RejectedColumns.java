package org.earslot.exchange.csv;

import java.util.List;

/** The columns before those of the file in a download of rejected lines; when it is sent again they say nothing new. */
public final class RejectedColumns {

    public static final List<String> NAMES = List.of("rejected_line", "rejected_because", "remedy");

    private RejectedColumns() {}
}
