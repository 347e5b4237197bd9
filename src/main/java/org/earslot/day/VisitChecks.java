package org.earslot.day;

import static org.earslot.booking.BookingRefusalCode.NOTHING_TO_RECORD;

import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.VisitRecords;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.VisitCheck;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Service;

/** The ticks of the room card; stored with the visit, never needed to finish it. */
@Service
public class VisitChecks {

    private final DiaryChange change;
    private final VisitRecords records;

    VisitChecks(DiaryChange change, VisitRecords records) {
        this.change = change;
        this.records = records;
    }

    /** Ticks one check of a visit that has begun, or removes the tick. */
    public BookingResult tick(ClinicId clinicId, UUID appointmentId, VisitCheck check, boolean done) {
        return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
            Optional<Visit> visit = appointment.times().calledIn() == null ? Optional.empty() : records.of(appointment);
            if (visit.isEmpty()) {
                return BookingResult.refused(NOTHING_TO_RECORD);
            }
            visit.get().tick(check, done);
            return change.stored(appointment, Optional.empty(), done ? "check-ticked" : "check-unticked", check.code());
        });
    }
}
