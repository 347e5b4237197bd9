package org.earslot.estimate;

import java.util.List;
import org.earslot.page.Refused;

/** A kept fit whose content is not what was kept; nothing is estimated by it. */
public final class DamagedFit extends Refused {

    DamagedFit(String version) {
        super(
                500,
                "fit-damaged",
                "The fit " + version
                        + " is damaged where it is kept: its content does not match its hash, so nothing is"
                        + " estimated by it. The clinic lead can fit now, or put another fit in force, on the page Estimator.",
                List.of());
    }
}
