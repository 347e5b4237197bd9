package org.earslot.offers;

import java.time.LocalDateTime;
import java.time.LocalTime;
import org.earslot.booking.AskedPlace;
import org.earslot.clinic.ClinicSession;

/**
 * A free place of the right length.
 *
 * @param session the session that holds it
 * @param start when it begins
 * @param slotMinutes its length: time in room and turnaround
 * @param ownWaitMinutes expected wait of this patient
 * @param addedWaitMinutes by how much the expected waits of the others grow, together; at least 0
 * @param overtimeRisk chance that the session ends late, this visit included, 0 to 1
 * @param whenFull whether that is said of the session with its other free places filled as usual
 * @param bookedLateEnd chance that the session ends late if nobody else is booked in it, 0 to 1
 * @param within whether that keeps to the share of late ends that the clinic accepts
 * @param last whether no other visit is booked after it in the session
 */
public record Offer(
        ClinicSession session,
        String practitionerName,
        String roomName,
        LocalTime start,
        int slotMinutes,
        double ownWaitMinutes,
        double addedWaitMinutes,
        double overtimeRisk,
        boolean whenFull,
        double bookedLateEnd,
        boolean within,
        boolean last) {

    /** The place to ask for. */
    public AskedPlace place() {
        return new AskedPlace(
                session.practitionerId(), session.roomId(), LocalDateTime.of(session.date(), start), slotMinutes);
    }
}
