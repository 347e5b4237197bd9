package org.earslot;

import java.util.Map;

/**
 * The constructors that still take more than seven collaborators, each with how many and why. An entry may fall or go,
 * never rise; a new one is a class whose concept is missing.
 */
final class ConstructorsAboveSeven {

    private static final String SCREEN = "one screen reads many rooms; its sections are not classes yet";
    private static final String ADDRESSES = "several screens' addresses stand in one class; they can be split";
    private static final String SEVERAL_USE_CASES = "several use cases in one class; each could have its own";
    private static final String SAME_LOCKS = "books or moves, and takes it back, under the same locks and rules";
    private static final String LOOKS_UP_NAMES = "looks up by itself what ids stand for, which one class could do";
    private static final String ONE_USE_CASE = "one use case that touches many rooms in one transaction";

    /** How many, and the reason. */
    record Above(int most, String reason) {}

    static final Map<String, Above> KNOWN = Map.ofEntries(
            Map.entry("booking.Booking", new Above(9, SAME_LOCKS)),
            Map.entry("day.web.DayPage", new Above(9, SCREEN)),
            Map.entry("daysheet.Briefings", new Above(8, SCREEN)),
            Map.entry("daysheet.web.DaySheetPage", new Above(10, SCREEN)),
            Map.entry("offers.MoveEffects", new Above(8, ONE_USE_CASE)),
            Map.entry("offers.Rescheduling", new Above(8, SAME_LOCKS)),
            Map.entry("offers.web.FixPage", new Above(8, SCREEN)));

    private ConstructorsAboveSeven() {}
}
