package org.earslot.referral;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The referrals of each clinic. */
public interface Referrals extends JpaRepository<Referral, UUID> {

    Optional<Referral> findByClinicIdAndId(ClinicId clinicId, UUID id);

    /** The referral that a form was saved as. */
    Optional<Referral> findByClinicIdAndFormKey(ClinicId clinicId, UUID formKey);

    List<Referral> findByClinicIdAndIdIn(ClinicId clinicId, Collection<UUID> ids);

    @Query("select r from Referral r where r.clinicId = :clinicId and r.patientId = :patientId"
            + " order by r.source.receivedOn desc")
    List<Referral> ofPatient(ClinicId clinicId, UUID patientId);

    @Query(
            "select r from Referral r where r.clinicId = :clinicId and r.status = :status order by r.source.receivedOn, r.id")
    List<Referral> standingAt(ClinicId clinicId, String status, Limit limit);

    /** Those that wait for an appointment, by when they came in. */
    @Query("""
            select r from Referral r where r.clinicId = :clinicId and r.status in :statuses order by r.source.receivedOn, r.id""")
    List<Referral> standingAt(ClinicId clinicId, Collection<String> statuses, Limit limit);

    /** Those under way of these people in which a red flag is answered with yes or "not known"; the oldest first. */
    @Query(
            "select r from Referral r where r.clinicId = :clinicId and r.patientId in :patientIds and r.status <> :closed"
                    + " and (r.redFlags.yes is not null or r.redFlags.notKnown is not null) order by r.source.receivedOn, r.id")
    List<Referral> withRedFlags(ClinicId clinicId, Collection<UUID> patientIds, String closed);

    /** Those that are under way. */
    @Query("select r from Referral r where r.clinicId = :clinicId and r.status <> :closed")
    List<Referral> open(ClinicId clinicId, String closed);

    @Query(
            "select r.status as status, count(r) as count from Referral r where r.clinicId = :clinicId group by r.status")
    List<StatusCount> counts(ClinicId clinicId);

    /** How many referrals stand at one status, by its code. */
    interface StatusCount {
        String getStatus();

        long getCount();
    }
}
