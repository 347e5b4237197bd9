package org.earslot.review.figures;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * A day on which something changed that may show in the figures after it.
 *
 * @param kind "policy" for a term that was settled, "slot" for what slots of a kind are given beyond their estimates,
 *     "estimator" for the minutes that estimates rest on, "first_fit"
 * @param what the term, the kind ("microsuction-both"), or method and number of ears ("microsuction.2"); empty for a first fit
 * @param before null where there was nothing
 * @param after null for a first fit
 */
public record Milestone(
        LocalDate on,
        String kind,
        String what,
        @Nullable Double before,
        @Nullable Double after) {}
