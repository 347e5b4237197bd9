package org.earslot.booking;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.Query;

/** The appointments of each clinic. */
public interface Appointments extends JpaRepository<Appointment, UUID> {

    Optional<Appointment> findByClinicIdAndId(ClinicId clinicId, UUID id);

    List<Appointment> findByClinicIdAndIdIn(ClinicId clinicId, Collection<UUID> ids);

    Optional<Appointment> findByClinicIdAndBookingRef(ClinicId clinicId, String bookingRef);

    Optional<Appointment> findByClinicIdAndVisitId(ClinicId clinicId, UUID visitId);

    List<Appointment> findByClinicIdAndVisitIdIn(ClinicId clinicId, Collection<UUID> visitIds);

    List<Appointment> findByClinicIdAndClinicDateOrderByStartsAt(ClinicId clinicId, LocalDate date);

    List<Appointment> findByClinicIdAndClinicDateBetweenOrderByStartsAt(
            ClinicId clinicId, LocalDate first, LocalDate last);

    List<Appointment> findByClinicIdAndReferralIdInOrderByStartsAt(ClinicId clinicId, Collection<UUID> referralIds);

    List<Appointment> findByClinicIdAndPatientIdOrderByStartsAtDesc(ClinicId clinicId, UUID patientId);

    List<Appointment> findByClinicIdAndPatientIdInAndClinicDateGreaterThanEqual(
            ClinicId clinicId, Collection<UUID> patientIds, LocalDate from);

    /** Those that hold the practitioner or the room in some part of the time. */
    @Query("""
            select a.id from Appointment a
            where a.clinicId = :clinicId and a.clinicDate = :date and a.holdsPlace = true
              and (a.practitionerId = :practitionerId or a.roomId = :roomId)
              and a.startsAt < :end and a.endsAt > :start
            """)
    List<UUID> findHolding(
            ClinicId clinicId, LocalDate date, UUID practitionerId, UUID roomId, Instant start, Instant end);

    /** The booked places of those days, and the fit-ins to come, who hold none. */
    @Query("""
            select new org.earslot.booking.HeldPlace(
                a.id, a.practitionerId, a.roomId, a.clinicDate, a.startsAt, a.slotMinutes, a.methodPlanned, a.estimate,
                a.fitIn, r.request.firstVisit)
            from Appointment a left join Referral r on r.id = a.referralId
            where a.clinicId = :clinicId and a.clinicDate between :first and :last
              and (a.holdsPlace = true or (a.fitIn = true and a.status = org.earslot.booking.AppointmentStatus.BOOKED))
            """)
    List<HeldPlace> findHeldPlaces(ClinicId clinicId, LocalDate first, LocalDate last);

    /** Those booked from then on, up to a day, whose patient can come at short notice; the next ones first. */
    @Query("""
            select a from Appointment a join Referral r on r.id = a.referralId
            where a.clinicId = :clinicId and a.startsAt >= :from and a.clinicDate <= :last and a.holdsPlace = true
              and a.status = org.earslot.booking.AppointmentStatus.BOOKED and r.request.shortNotice = org.earslot.ear.Answer.YES
            order by a.startsAt, a.id
            """)
    List<Appointment> bookedLaterAtShortNotice(ClinicId clinicId, Instant from, LocalDate last, Limit limit);

    /** Those still to come, from that day on, of patients with that correspondence; the next ones first. */
    @Query("""
            select a from Appointment a join Patient p on p.id = a.patientId
            where a.clinicId = :clinicId and a.clinicDate >= :from and p.correspondence = :correspondence
            order by a.startsAt, a.id
            """)
    List<Appointment> ofThoseWrittenTo(ClinicId clinicId, LocalDate from, String correspondence);

    /** The visits of referrals that were not attended from that day on. */
    @Query("""
            select a from Appointment a
            where a.clinicId = :clinicId and a.clinicDate >= :first and a.referralId is not null
              and a.attendance = org.earslot.ear.Attendance.DID_NOT_ATTEND
            """)
    List<Appointment> missedSince(ClinicId clinicId, LocalDate first);

    @Query("select a.id from Appointment a where a.clinicId = :clinicId and a.patientId = :patientId")
    List<UUID> idsOfPatient(ClinicId clinicId, UUID patientId);

    /** Whose appointments these are. */
    @Query("select distinct a.patientId from Appointment a"
            + " where a.clinicId = :clinicId and a.id in :ids and a.patientId is not null")
    List<UUID> patientsOf(ClinicId clinicId, Collection<UUID> ids);

    /** They are of another record of the same person. */
    @Modifying(flushAutomatically = true)
    @Query("update Appointment a set a.patientId = :patientId where a.clinicId = :clinicId and a.id in :ids")
    void belongTo(ClinicId clinicId, Collection<UUID> ids, UUID patientId);
}
