package org.earslot.kit;

import java.time.LocalTime;
import java.util.Optional;
import org.earslot.ear.Method;

/** Why a visit would not find its kit, or would take it from another. */
public sealed interface KitLack {

    /** The clinic has units for the method, but none in that room, and none to move. */
    record NoUnit(Method method) implements KitLack {}

    /** The movable unit is in another room then. */
    record UnitElsewhere(String name, LocalTime freeFrom) implements KitLack {}

    /** One visit more that day would start without a clean set, the first of those at that time. */
    record SetsShort(String kind, LocalTime first, Optional<LocalTime> cleanAgain) implements KitLack {}
}
