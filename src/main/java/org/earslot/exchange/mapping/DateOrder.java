package org.earslot.exchange.mapping;

import java.util.Optional;
import org.earslot.ear.Word;

/** How a spreadsheet writes its dates. */
public enum DateOrder implements Word {
    DAY_FIRST("day_first"),
    YEAR_FIRST("year_first");

    private final String code;

    DateOrder(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<DateOrder> of(String code) {
        return Word.find(values(), code);
    }
}
