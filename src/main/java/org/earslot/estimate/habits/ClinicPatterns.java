package org.earslot.estimate.habits;

import java.util.List;
import org.earslot.estimate.Estimate;

/**
 * What a clinic's visit log tells beside how long a visit takes.
 *
 * @param version of the fit it is kept beside, or {@link Estimate#ASSUMED}
 * @param usual visits such as come in, at least one
 */
public record ClinicPatterns(String version, AttendanceModel coming, List<UsualVisit> usual) {

    public ClinicPatterns {
        usual = List.copyOf(usual);
    }
}
