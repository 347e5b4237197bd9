package org.earslot.clinic;

import com.fasterxml.jackson.annotation.JsonValue;
import java.io.Serializable;
import java.util.UUID;

/** The id of a clinic. */
public record ClinicId(@JsonValue UUID value) implements Comparable<ClinicId>, Serializable {

    /** Of a new clinic. */
    public static ClinicId random() {
        return new ClinicId(UUID.randomUUID());
    }

    @Override
    public int compareTo(ClinicId other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value.toString();
    }
}
