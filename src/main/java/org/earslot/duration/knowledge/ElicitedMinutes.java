package org.earslot.duration.knowledge;

import org.earslot.duration.table.VisitTerms;
import org.jspecify.annotations.Nullable;

/**
 * What an expert says of one kind of visit: the minutes from called in to finished, over all patients of that kind.
 *
 * @param visit the kind: factors not known are mentioned as not known, so that they vary as in the clinic's case mix; no
 *     group and no person
 * @param usual the median; above 0
 * @param oneInTenOver what one in ten exceeds, the 90 % point, above {@code usual}; null where nothing was said
 */
public record ElicitedMinutes(
        VisitTerms visit, double usual, @Nullable Double oneInTenOver) {

    public ElicitedMinutes {
        if (!(usual > 0 && usual < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("usual is " + usual + "; give a finite number of minutes above 0");
        }
        if (oneInTenOver != null && !(oneInTenOver > usual && oneInTenOver < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "one in ten over is " + oneInTenOver + "; give a finite number of minutes above " + usual);
        }
    }

    /** Whether every number said is a multiple of {@code minutes}. */
    boolean multipleOf(int minutes) {
        return usual % minutes == 0 && (oneInTenOver == null || oneInTenOver % minutes == 0);
    }
}
