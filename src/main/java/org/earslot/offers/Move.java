package org.earslot.offers;

import java.util.UUID;
import org.earslot.booking.AskedPlace;

/**
 * One appointment put elsewhere, as part of a change of a day.
 *
 * @param version the version that whoever asks has seen
 * @param asked whether the patient was asked and agreed; a confirmed start is not moved without
 */
public record Move(UUID appointmentId, int version, AskedPlace place, boolean asked) {}
