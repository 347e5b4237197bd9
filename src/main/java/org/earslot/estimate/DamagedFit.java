package org.earslot.estimate;

import org.earslot.page.Refused;

/** A kept fit whose content is not what was kept; nothing is estimated by it. */
public final class DamagedFit extends Refused {

    DamagedFit(String version) {
        super(500, "fit-damaged", "estimate.fit.damaged", version);
    }
}
