package org.earslot.account;

import java.util.Arrays;
import java.util.Optional;

/** What a person may see and do. */
public enum Role {
    RECEPTIONIST("receptionist"),
    PRACTITIONER("practitioner"),
    LEAD("lead");

    private final String code;

    Role(String code) {
        this.code = code;
    }

    /** The role as the database and forms write it. */
    public String code() {
        return code;
    }

    /** The role written as {@code code}, or empty if there is none. */
    public static Optional<Role> of(String code) {
        return Arrays.stream(values()).filter(role -> role.code().equals(code)).findFirst();
    }

    String authority() {
        return "ROLE_" + name();
    }
}
