package org.earslot.booking;

import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.BinaryOperator;
import java.util.stream.Collectors;
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
                .map(this::booked)
                .toList();
    }

    @Override
    public List<Booked> toCome(UUID clinicId, UUID patientId) {
        return appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinicId, patientId).stream()
                .filter(one -> one.status().toCome() && !one.place().date().isBefore(clock.today(clinicId)))
                .map(this::booked)
                .sorted(Comparator.comparing(Booked::start))
                .toList();
    }

    @Override
    public Map<UUID, Booked> next(UUID clinicId, Collection<UUID> patientIds) {
        return appointments
                .findByClinicIdAndPatientIdInAndClinicDateGreaterThanEqual(clinicId, patientIds, clock.today(clinicId))
                .stream()
                .filter(one -> one.status().toCome())
                .collect(Collectors.toMap(
                        one -> one.patientId().orElseThrow(),
                        this::booked,
                        BinaryOperator.minBy(Comparator.comparing(Booked::start))));
    }

    private Booked booked(Appointment one) {
        return new Booked(
                one.id(),
                clock.local(one.clinicId(), one.place().start()),
                one.status().code());
    }
}
