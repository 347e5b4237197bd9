package org.earslot.kit;

import java.time.LocalTime;
import java.util.UUID;

/**
 * A movable unit that more rooms want than there are.
 *
 * @param name of the unit
 * @param from when it is wanted once too often
 * @param freeFrom when it is free again
 * @param appointmentId the visit that finds it gone
 */
public record KitClash(String name, LocalTime from, LocalTime freeFrom, UUID appointmentId) {}
