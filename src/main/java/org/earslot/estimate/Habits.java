package org.earslot.estimate;

import java.util.List;

/**
 * What a clinic's visit log tells beside how long a visit takes.
 *
 * @param version of the fit it is kept beside, or {@link Estimate#ASSUMED}
 * @param usual visits such as come in, at least one
 */
public record Habits(String version, Coming coming, List<UsualVisit> usual) {

    public Habits {
        usual = List.copyOf(usual);
    }
}
