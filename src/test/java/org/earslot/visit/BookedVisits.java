package org.earslot.visit;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;

/** Bookings as the tests of this room use them. */
public final class BookedVisits {

    private BookedVisits() {}

    public static BookedVisit bothEarsByHand(ClinicId clinicId, UUID practitionerId, String visitRef) {
        return new BookedVisit(
                clinicId,
                visitRef,
                "K000071",
                LocalDate.parse("2026-03-03"),
                practitionerId,
                null,
                Method.MANUAL_REMOVAL,
                Ears.BOTH,
                Answer.YES,
                Answer.NOT_KNOWN,
                Set.of(Caution.TINNITUS, Caution.DIABETES),
                5,
                "GP",
                Map.of(Ear.RIGHT, new EarFindings(Wax.STICKY, Canal.NARROW, null, null)),
                Instant.parse("2026-03-03T09:00:00Z"),
                30,
                false,
                null,
                null);
    }
}
