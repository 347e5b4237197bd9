package org.earslot.caution;

import java.util.UUID;

/** A clinic has changed its table of cautions. */
record CautionTableChanged(UUID clinicId) {}
