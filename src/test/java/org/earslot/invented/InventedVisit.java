package org.earslot.invented;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.jspecify.annotations.Nullable;

/**
 * An invented visit: what was told before, what was written down after, and what was true.
 *
 * @param told known when the visit is booked
 * @param kept what the visit log keeps of what happened
 * @param truth known to nobody in the clinic
 */
public record InventedVisit(Told told, Kept kept, Truth truth) {

    /**
     * What the referral, the diary and the patient's card say.
     *
     * @param number the visit's number, from 1, in the order of call-in
     * @param patient the patient's number
     * @param practitioner the practitioner's number, from 0; each has one room
     * @param referrer the referrer's number, from 0; the same for all visits of a patient
     * @param bookedStart minutes after midnight
     * @param slot minutes
     */
    public record Told(
            int number,
            int patient,
            LocalDate date,
            int practitioner,
            int referrer,
            Method method,
            Ears ears,
            boolean firstVisit,
            boolean hearingAid,
            Set<Caution> cautions,
            int softenerDays,
            Map<Ear, EarFindings> reported,
            int bookedStart,
            int slot) {}

    /**
     * What was written down. Clock times are minutes after midnight, null where nothing happened.
     *
     * @param used methods used by ear, in order
     * @param found findings by ear
     */
    public record Kept(
            Attendance attendance,
            Map<Ear, List<Method>> used,
            Map<Ear, EarFindings> found,
            @Nullable Integer arrived,
            @Nullable Integer calledIn,
            @Nullable Integer finished,
            @Nullable Integer roomReady,
            StoppedEarly stopped,
            Map<Ear, Outcome> outcomes) {}

    /**
     * What was true, to a fraction of a minute.
     *
     * @param attends whether the patient comes
     * @param earliness minutes before the booked start at which the patient comes; below 0: late
     * @param completion minutes to completion if called in on time, at the place of the session it was booked at
     * @param comfortStop minutes after which the patient or the practitioner would stop it; compare with completion
     * @param turnaround minutes from finished to room ready
     */
    public record Truth(boolean attends, double earliness, double completion, double comfortStop, double turnaround) {}

    /** Whether both call-in and finish were kept, so that the visit has minutes. */
    public boolean timed() {
        return kept.calledIn != null && kept.finished != null;
    }

    /** Minutes in room as kept. */
    public int minutes() {
        if (kept.calledIn == null || kept.finished == null) {
            throw new IllegalStateException("visit " + told.number + " has no minutes");
        }
        return kept.finished - kept.calledIn;
    }

    /** Whole minutes from the booked start to call-in, at least 0: how late the practitioner runs. */
    public int lateness() {
        if (kept.calledIn == null) {
            throw new IllegalStateException("visit " + told.number + " was not called in");
        }
        return Math.max(0, kept.calledIn - told.bookedStart);
    }
}
