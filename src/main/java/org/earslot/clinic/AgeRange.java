package org.earslot.clinic;

import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * The ages that a practitioner sees, in full years.
 *
 * @param least the youngest; null: no limit
 * @param most the oldest; null: no limit
 */
public record AgeRange(@Nullable Integer least, @Nullable Integer most) {

    /** Nobody is older than that. */
    public static final int OLDEST = 130;

    /** Everybody. */
    public static final AgeRange ANY = new AgeRange(null, null);

    /** Whether somebody is seen of that age; one whose age is not known is not refused. */
    public boolean includes(Optional<Integer> age) {
        return age.map(this::includes).orElse(true);
    }

    /** Whether somebody of that age is seen. */
    public boolean includes(int age) {
        return (least == null || age >= least) && (most == null || age <= most);
    }
}
