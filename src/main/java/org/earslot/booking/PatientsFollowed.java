package org.earslot.booking;

import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.patient.MergedKind;
import org.earslot.patient.PatientsMerged;
import org.earslot.patient.PatientsParted;
import org.earslot.referral.Merging;
import org.earslot.visit.Visits;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/** Appointments and visits follow their patient when two records are merged, and go back when they are parted. */
@Component
class PatientsFollowed {

    private final Appointments appointments;
    private final Visits visits;
    private final Merging merging;

    PatientsFollowed(Appointments appointments, Visits visits, Merging merging) {
        this.appointments = appointments;
        this.visits = visits;
        this.merging = merging;
    }

    @EventListener
    void merged(PatientsMerged merged) {
        ClinicId clinic = merged.clinicId();
        List<UUID> booked = appointments.idsOfPatient(clinic, merged.goneId());
        List<UUID> seen = visits.idsOfPatient(clinic, merged.goneNumber());
        merging.wentAlong(clinic, merged.mergeId(), MergedKind.APPOINTMENT, booked);
        merging.wentAlong(clinic, merged.mergeId(), MergedKind.VISIT, seen);
        move(clinic, booked, merged.keptId(), seen, merged.keptNumber());
    }

    @EventListener
    void parted(PatientsParted parted) {
        ClinicId clinic = parted.clinicId();
        move(
                clinic,
                merging.thatWentAlong(clinic, parted.mergeId(), MergedKind.APPOINTMENT),
                parted.backTo(),
                merging.thatWentAlong(clinic, parted.mergeId(), MergedKind.VISIT),
                parted.backToNumber());
    }

    private void move(ClinicId clinic, List<UUID> booked, UUID toPatient, List<UUID> seen, String toNumber) {
        if (!booked.isEmpty()) {
            appointments.belongTo(clinic, booked, toPatient);
        }
        if (!seen.isEmpty()) {
            visits.belongTo(clinic, seen, toNumber);
        }
    }
}
