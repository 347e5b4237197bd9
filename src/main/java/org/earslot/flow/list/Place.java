package org.earslot.flow.list;

import java.time.LocalTime;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;

/**
 * One call-in of a list. Made by {@link #booked}, {@link #fitIn} or {@link #calledAgain}, then refined by the
 * {@code with} verbs.
 *
 * @param name the caller's own handle, unique in its list
 * @param booked booked start; null for a fit-in and for a second call-in
 * @param slotMinutes length of the slot, time in room and turnaround together; 0 where there is none
 * @param inRoom time in room: the earlier of completion and a stop for comfort, whole prediction (not narrowed for what
 *     the visits of a day share, see {@link DayList#commonSd})
 * @param turnaround finished to room ready
 * @param didNotAttend chance of it, from 0 to 1; counts only while the patient is expected
 * @param arrivals when the patient comes, while expected
 * @param room name of the room; two at most in one list
 * @param stage how far the visit has come
 * @param again set for the second call-in of a patient who waited outside meanwhile
 */
public record Place(
        String name,
        @Nullable LocalTime booked,
        double slotMinutes,
        MinutesDistribution inRoom,
        MinutesDistribution turnaround,
        double didNotAttend,
        Arrivals arrivals,
        String room,
        Stage stage,
        @Nullable SecondCall again) {

    private static final MinutesDistribution NONE = new FixedMinutes(0);

    /**
     * @param of name of the place of the first call-in, earlier in the list
     * @param minutesOutside least minutes from finished of the first to called in of the second; at least 0
     */
    public record SecondCall(String of, double minutesOutside) {
        public SecondCall {
            Bounds.within("minutes outside", minutesOutside, 0, 24 * 60);
        }
    }

    public Place {
        Bounds.nonNegative("slot minutes", slotMinutes);
        Bounds.within("chance of not attending", didNotAttend, 0, 1);
        if (again != null && booked != null) {
            throw new IllegalArgumentException("a second call-in has no booked start, but " + booked + " was given");
        }
    }

    /** A booked visit: certain to attend and early, no turnaround, until said otherwise. */
    public static Place booked(String name, LocalTime start, double slotMinutes, MinutesDistribution inRoom) {
        return new Place(name, start, slotMinutes, inRoom, NONE, 0, Arrivals.EARLY, "", Stage.EXPECTED, null);
    }

    /** A patient with no slot, here since {@code arrived}; called in where the list has it. */
    public static Place fitIn(String name, LocalTime arrived, MinutesDistribution inRoom) {
        return new Place(name, null, 0, inRoom, NONE, 0, Arrivals.EARLY, "", new Stage.Present(arrived), null);
    }

    /** The second call-in of the patient at place {@code first}. */
    public static Place calledAgain(String name, String first, double minutesOutside, MinutesDistribution inRoom) {
        SecondCall again = new SecondCall(first, minutesOutside);
        return new Place(name, null, 0, inRoom, NONE, 0, Arrivals.EARLY, "", Stage.EXPECTED, again);
    }

    /** The same with another time from finish to room ready. */
    public Place withTurnaround(MinutesDistribution given) {
        return new Place(name, booked, slotMinutes, inRoom, given, didNotAttend, arrivals, room, stage, again);
    }

    /** The same with another chance of not attending, from 0 to 1, and other arrivals. */
    public Place withAttendance(double chanceOfNotAttending, Arrivals given) {
        return new Place(
                name, booked, slotMinutes, inRoom, turnaround, chanceOfNotAttending, given, room, stage, again);
    }

    /** The same in another room. */
    public Place inRoom(String given) {
        return new Place(name, booked, slotMinutes, inRoom, turnaround, didNotAttend, arrivals, given, stage, again);
    }

    /** The same at another stage. */
    public Place at(Stage given) {
        return new Place(name, booked, slotMinutes, inRoom, turnaround, didNotAttend, arrivals, room, given, again);
    }

    /** The same visit in another slot. */
    public Place movedTo(LocalTime start, double slot) {
        return new Place(name, start, slot, inRoom, turnaround, didNotAttend, arrivals, room, stage, again);
    }

    /** P(the visit takes place), from what its stage tells. */
    public double attends() {
        if (stage instanceof Stage.Away) {
            return 0;
        }
        return stage instanceof Stage.Expected ? 1 - didNotAttend : 1;
    }

    /** Whether the patient has yet to arrive. */
    public boolean isExpected() {
        return stage instanceof Stage.Expected;
    }

    /** Whether the patient was called in. */
    public boolean wasCalledIn() {
        return stage instanceof Stage.InRoom || stage instanceof Stage.Finished;
    }

    /** When, on the day; null if not yet. */
    @Nullable
    public LocalTime calledIn() {
        if (stage instanceof Stage.InRoom inside) {
            return inside.calledIn();
        }
        return stage instanceof Stage.Finished over ? over.calledIn() : null;
    }

    /** When the patient arrived; null if not yet, or not known. */
    @Nullable
    public LocalTime arrived() {
        if (stage instanceof Stage.Present present) {
            return present.arrived();
        }
        if (stage instanceof Stage.InRoom inside) {
            return inside.arrived();
        }
        return stage instanceof Stage.Finished over ? over.arrived() : null;
    }
}
