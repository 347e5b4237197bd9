package org.earslot.booking;

import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.BinaryOperator;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.ear.Attendance;
import org.earslot.referral.ReferralAppointments;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Component;

/** Tells the pages and the interface of patients and referrals which appointments there are. */
@Component
class AppointmentsOfReferrals implements ReferralAppointments {

    private final Appointments appointments;
    private final Visits visits;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final OtherVisitKinds kinds;
    private final ClinicClock clock;

    AppointmentsOfReferrals(
            Appointments appointments,
            Visits visits,
            Practitioners practitioners,
            Rooms rooms,
            OtherVisitKinds kinds,
            ClinicClock clock) {
        this.appointments = appointments;
        this.visits = visits;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.kinds = kinds;
        this.clock = clock;
    }

    @Override
    public List<Booked> of(ClinicId clinicId, UUID referralId) {
        return booked(
                clinicId, appointments.findByClinicIdAndReferralIdInOrderByStartsAt(clinicId, List.of(referralId)));
    }

    @Override
    public Map<UUID, Booked> latest(ClinicId clinicId, Collection<UUID> referralIds) {
        return booked(clinicId, appointments.findByClinicIdAndReferralIdInOrderByStartsAt(clinicId, referralIds))
                .stream()
                .collect(Collectors.toMap(Booked::referralId, Function.identity(), (earlier, later) -> later));
    }

    @Override
    public List<Booked> ofPatient(ClinicId clinicId, UUID patientId) {
        return booked(clinicId, appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinicId, patientId));
    }

    @Override
    public List<Logged> logged(ClinicId clinicId, String localNumber) {
        List<Visit> all = visits.findByClinicIdAndPatientRefOrderByDateDesc(clinicId, localNumber);
        Set<UUID> appointed =
                appointments
                        .findByClinicIdAndVisitIdIn(
                                clinicId, all.stream().map(Visit::id).toList())
                        .stream()
                        .map(one -> one.visitId().orElseThrow())
                        .collect(Collectors.toSet());
        Map<UUID, String> names = names(clinicId);
        return all.stream()
                .filter(visit -> !appointed.contains(visit.id()))
                .map(visit -> new Logged(
                        visit.date(),
                        names.getOrDefault(visit.practitionerId(), "–"),
                        visit.ears(),
                        visit.methodPlanned(),
                        visit.attendance().map(Attendance::code).orElse(null)))
                .toList();
    }

    @Override
    public Map<UUID, Booked> next(ClinicId clinicId, Collection<UUID> patientIds) {
        List<Appointment> coming = appointments
                .findByClinicIdAndPatientIdInAndClinicDateGreaterThanEqual(clinicId, patientIds, clock.today(clinicId))
                .stream()
                .filter(one -> one.status().toCome())
                .toList();
        Map<UUID, UUID> patientOf = coming.stream()
                .collect(
                        Collectors.toMap(Appointment::id, one -> one.patientId().orElseThrow()));
        return booked(clinicId, coming).stream()
                .collect(Collectors.toMap(
                        one -> patientOf.get(one.id()),
                        Function.identity(),
                        BinaryOperator.minBy(Comparator.comparing(Booked::start))));
    }

    private List<Booked> booked(ClinicId clinicId, List<Appointment> found) {
        if (found.isEmpty()) {
            return List.of();
        }
        Map<UUID, String> who = names(clinicId);
        Map<UUID, String> where =
                rooms.findByClinicIdOrderByName(clinicId).stream().collect(Collectors.toMap(Room::id, Room::name));
        Map<UUID, String> kind = kinds.findByClinicIdOrderByName(clinicId).stream()
                .collect(Collectors.toMap(OtherVisitKind::id, OtherVisitKind::name));
        return found.stream()
                .map(one -> new Booked(
                        one.id(),
                        one.referralId().orElse(null),
                        clock.local(clinicId, one.place().start()),
                        one.place().slotMinutes(),
                        one.status().code(),
                        one.status().toCome(),
                        one.confirmed(),
                        who.getOrDefault(one.place().practitionerId(), "–"),
                        where.getOrDefault(one.place().roomId(), "–"),
                        one.planned().ears(),
                        one.planned().method(),
                        Optional.ofNullable(one.planned().otherVisitKindId())
                                .map(kind::get)
                                .orElse(null),
                        one.attendance().map(Attendance::code).orElse(null)))
                .toList();
    }

    private Map<UUID, String> names(ClinicId clinicId) {
        return practitioners.findByClinicIdOrderByName(clinicId).stream()
                .collect(Collectors.toMap(Practitioner::id, Practitioner::name));
    }
}
