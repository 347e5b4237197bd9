package org.earslot.account;

import java.io.Serializable;
import java.time.Instant;

/**
 * What a session remembers of its sign-in.
 *
 * @param at when it was
 * @param address where it came from
 * @param version the account as it was then
 * @param owes what must be given before anything else is answered
 */
public record SignInStamp(Instant at, String address, int version, Owes owes) implements Serializable {

    /** The session's attribute of it. */
    public static final String ATTRIBUTE = "earslot.signed-in";

    /** The session's attribute of the {@link Instant} at which a person last used it. */
    public static final String LAST_USED = "earslot.last-used";

    /** What is still to come after the password. */
    public enum Owes {
        NOTHING,
        /** The code of the second factor. */
        CODE,
        /** A second factor, which the clinic asks of this role. */
        SECOND_FACTOR
    }

    /** The same once all is given. */
    public SignInStamp paid() {
        return new SignInStamp(at, address, version, Owes.NOTHING);
    }
}
