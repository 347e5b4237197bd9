package org.earslot.review.figures;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Whose figures are read: everyone's, or one practitioner's own.
 *
 * @param practitionerId null for everyone
 */
public record Whose(@Nullable UUID practitionerId) {

    /** The whole clinic. */
    public static final Whose EVERYONE = new Whose(null);
}
