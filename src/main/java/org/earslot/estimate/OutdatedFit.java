package org.earslot.estimate;

import java.util.UUID;

/** The fit in force was made by another release, which computes otherwise: a new one is due. */
record OutdatedFit(UUID clinicId) {}
