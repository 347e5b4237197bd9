package org.earslot.page;

import java.sql.SQLException;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/** Which constraint of the database, if any, a failure to store comes from. */
public enum BrokenConstraint {
    /** Other stored records do not allow it: the same key, or a record that is referred to or missing. */
    BETWEEN_RECORDS,
    /** The value itself is not allowed: none, too long, outside its range. */
    ON_A_VALUE,
    /** Something else failed, perhaps while a constraint was being checked. */
    NONE;

    /** Referential, restrict, unique and exclusion, as H2 and PostgreSQL number them. */
    private static final Set<String> RECORDS = Set.of("23001", "23503", "23505", "23506", "23P01");

    private static final List<String> VALUES = List.of("22", "23");

    /**
     * Judged by the SQLStates of the failure and of all its causes: a constraint counts only if no other kind of failure
     * is behind it.
     */
    public static BrokenConstraint of(Throwable thrown) {
        List<String> states = Stream.iterate(thrown, cause -> cause != null, Throwable::getCause)
                .filter(SQLException.class::isInstance)
                .map(cause -> String.valueOf(((SQLException) cause).getSQLState()))
                .toList();
        if (states.isEmpty() || !states.stream().allMatch(BrokenConstraint::isOfValues)) {
            return NONE;
        }
        return RECORDS.contains(states.get(states.size() - 1)) ? BETWEEN_RECORDS : ON_A_VALUE;
    }

    private static boolean isOfValues(String state) {
        return VALUES.stream().anyMatch(state::startsWith);
    }
}
