package org.earslot.exchange.csv;

import java.util.List;

/** A file of which no line can be read: its encoding or its header is wrong. Nothing of it goes in. */
public final class UnreadableFile extends Exception {

    private final transient List<FieldError> faults;

    public UnreadableFile(List<FieldError> faults) {
        super("The file cannot be read: " + faults.get(0).reason());
        this.faults = List.copyOf(faults);
    }

    UnreadableFile(String reason, String remedy) {
        this(List.of(new FieldError("", "", reason, remedy)));
    }

    public List<FieldError> faults() {
        return faults;
    }
}
