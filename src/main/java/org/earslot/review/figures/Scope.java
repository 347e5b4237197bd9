package org.earslot.review.figures;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Scope figures are read: everyone's, or one practitioner's own.
 *
 * @param practitionerId null for everyone
 */
public record Scope(@Nullable UUID practitionerId) {

    /** The whole clinic. */
    public static final Scope EVERYONE = new Scope(null);
}
