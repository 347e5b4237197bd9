package org.earslot.visit;

import jakarta.persistence.LockModeType;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Modifying;
import org.springframework.data.jpa.repository.Query;

/** The visits of each clinic. */
public interface Visits extends JpaRepository<Visit, UUID> {

    Optional<Visit> findByClinicIdAndId(ClinicId clinicId, UUID id);

    /** Holds a visit until the transaction ends; the others who want to hold it wait. */
    @Lock(LockModeType.PESSIMISTIC_WRITE)
    @Query("select v from Visit v where v.clinicId = :clinicId and v.id = :id")
    Optional<Visit> hold(ClinicId clinicId, UUID id);

    Optional<Visit> findByClinicIdAndVisitRef(ClinicId clinicId, String visitRef);

    List<Visit> findByClinicIdAndVisitRefIn(ClinicId clinicId, Collection<String> visitRefs);

    /** The visits of those days that are as an import wrote them last. */
    @Query("select v from Visit v where v.clinicId = :clinicId and v.date between :first and :last"
            + " and v.contentHash is not null")
    List<Visit> asImported(ClinicId clinicId, LocalDate first, LocalDate last);

    /** A patient's visits, the latest first. */
    List<Visit> findByClinicIdAndPatientRefOrderByDateDesc(ClinicId clinicId, String patientRef);

    long countByClinicId(ClinicId clinicId);

    /** When each patient was last seen. */
    @Query("""
            select v.patientRef as patientRef, max(v.date) as lastDate from Visit v
            where v.clinicId = :clinicId and v.calledIn is not null group by v.patientRef""")
    List<LastSeen> lastSeen(ClinicId clinicId);

    /** Visits of the clinic's own days that are over and after which nothing is decided, or the patient is to come again. */
    @Query("""
            select v from Visit v
            where v.clinicId = :clinicId and v.date >= :first and v.source = 'clinic' and v.finished is not null
              and (v.nextStep is null or v.nextStep = org.earslot.ear.NextStep.COME_AGAIN)
            order by v.date, v.visitRef""")
    List<Visit> withoutAnEnd(ClinicId clinicId, LocalDate first);

    /** The patients who were referred on when they were last seen. */
    @Query("""
            select distinct v.patientRef from Visit v
            where v.clinicId = :clinicId and v.nextStep = org.earslot.ear.NextStep.REFER_ON
              and not exists (select w.id from Visit w where w.clinicId = v.clinicId and w.patientRef = v.patientRef
                and w.calledIn is not null and w.date > v.date)""")
    List<String> lastReferredOn(ClinicId clinicId);

    /** What the log says of hearing aids, each answer with the last visit that gave it. */
    @Query("""
            select v.patientRef as patientRef, v.hearingAid as answer, max(v.date) as lastDate from Visit v
            where v.clinicId = :clinicId and v.hearingAid <> org.earslot.ear.Answer.NOT_KNOWN
            group by v.patientRef, v.hearingAid""")
    List<SaidOfHearingAids> saidOfHearingAids(ClinicId clinicId);

    /** One answer about a patient's hearing aids. */
    interface SaidOfHearingAids {
        String getPatientRef();

        Answer getAnswer();

        LocalDate getLastDate();
    }

    /** When a patient was last seen. */
    interface LastSeen {
        String getPatientRef();

        LocalDate getLastDate();
    }

    /** The next visits that are over, by date and id, after one of these. */
    @Query("""
            select v from Visit v
            where v.clinicId = :clinicId and v.attendance is not null and v.date <= :last
              and (v.date > :date or (v.date = :date and v.visitRef > :visitRef))
            order by v.date, v.visitRef
            """)
    List<Visit> overAfter(ClinicId clinicId, LocalDate date, String visitRef, LocalDate last, Limit most);

    @Query("select v.id from Visit v where v.clinicId = :clinicId and v.patientRef = :patientRef")
    List<UUID> idsOfPatient(ClinicId clinicId, String patientRef);

    /** They are of another record of the same person. */
    @Modifying(flushAutomatically = true)
    @Query("update Visit v set v.patientRef = :patientRef where v.clinicId = :clinicId and v.id in :ids")
    void belongTo(ClinicId clinicId, Collection<UUID> ids, String patientRef);
}
