package org.earslot.referral;

import java.time.LocalDate;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.jspecify.annotations.Nullable;

/**
 * A caution that was answered with yes.
 *
 * @param ear the ear it belongs to; null for the whole patient
 * @param since when it began or was last so; null where not known. Expiring cautions are judged from it
 */
public record AskedCaution(
        Caution caution, @Nullable Ear ear, @Nullable LocalDate since) {}
