package org.earslot.review.figures;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One group of visits.
 *
 * @param group its name; empty for "not known"
 * @param pooled the names of the small groups this line holds together; empty for a group of its own
 * @param small too few visits for any comparison
 * @param overruns visits that overran, of those whose overrun can be told
 * @param minutesOver mean minutes over of the visits that overran; null where none did
 * @param waitsCaused minutes that patients waited because these visits took long
 * @param comparedWithTheRest how the share differs from that of all other visits
 */
public record GroupLine(
        String group,
        List<String> pooled,
        boolean small,
        Share overruns,
        @Nullable Double minutesOver,
        double waitsCaused,
        Change comparedWithTheRest) {}
