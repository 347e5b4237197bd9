package org.earslot.account;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** What a person may see and do. */
public enum Role {
    RECEPTIONIST,
    PRACTITIONER,
    LEAD;

    /** The role as the database and forms write it. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** The role written as {@code code}, or empty where there is none. */
    public static Optional<Role> of(String code) {
        return Arrays.stream(values()).filter(role -> role.code().equals(code)).findFirst();
    }

    String authority() {
        return "ROLE_" + name();
    }
}
