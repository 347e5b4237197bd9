package org.earslot.booking;

import java.util.List;
import java.util.UUID;

/** What came of a request to the diary. */
public sealed interface BookingResult {

    /** Done; the appointment and its new version. */
    record Done(UUID appointmentId, int version) implements BookingResult {}

    /** Several appointments were moved as one change. */
    record Rearranged(UUID rearrangementId) implements BookingResult {}

    /** Nothing was changed, for each of these reasons; at least one. */
    record NotDone(List<BookingRefusal> refusals) implements BookingResult {

        public NotDone {
            refusals = List.copyOf(refusals);
        }

        /** Whether this is the only reason. */
        public boolean only(BookingRefusalCode why) {
            return refusals.stream().allMatch(refusal -> refusal.why() == why);
        }

        /** Whether this is the first reason. */
        public boolean isFirst(BookingRefusalCode why) {
            return refusals.get(0).why() == why;
        }
    }

    /** Refused for one reason that needs no values. */
    static BookingResult refused(BookingRefusalCode why) {
        return refused(BookingRefusal.of(why));
    }

    /** Refused for one reason. */
    static BookingResult refused(BookingRefusal refusal) {
        return new NotDone(List.of(refusal));
    }
}
