package org.earslot.estimate.habits;

import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.minutes.MinutesDistribution;

/** A visit such as the clinic has, with its time in room as it would be estimated for a new patient. */
public record UsualVisit(Method method, Ears ears, MinutesDistribution inRoom) {}
