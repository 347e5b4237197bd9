package org.earslot.diary;

import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.referral.ReferralAppointments;
import org.springframework.stereotype.Component;

/** Tells a referral's page and interface which appointments it has. */
@Component
class AppointmentsOfReferrals implements ReferralAppointments {

    private final Appointments appointments;
    private final ClinicClock clock;

    AppointmentsOfReferrals(Appointments appointments, ClinicClock clock) {
        this.appointments = appointments;
        this.clock = clock;
    }

    @Override
    public List<Booked> of(UUID clinicId, UUID referralId) {
        return appointments.findByClinicIdAndReferralIdInOrderByStartsAt(clinicId, List.of(referralId)).stream()
                .map(one -> new Booked(
                        one.id(),
                        clock.local(clinicId, one.place().start()),
                        one.status().code()))
                .toList();
    }
}
