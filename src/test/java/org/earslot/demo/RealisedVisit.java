package org.earslot.demo;

import org.earslot.ear.Attendance;
import org.jspecify.annotations.Nullable;

/** What became of a place; minutes count from midnight, {@code null} where it did not come about. */
record RealisedVisit(
        Place place,
        Attendance attendance,
        @Nullable Integer arrived,
        @Nullable Integer calledIn,
        @Nullable Integer roomReady,
        @Nullable Course course) {}
