package org.earslot.patient;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The patients of each clinic. */
public interface Patients extends JpaRepository<Patient, UUID> {

    Optional<Patient> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<Patient> findByClinicIdAndLocalNumber(ClinicId clinicId, String localNumber);

    /** The patient of that number; of a second record, the patient whose it is. */
    default Optional<Patient> known(ClinicId clinicId, String localNumber) {
        return findByClinicIdAndLocalNumber(clinicId, localNumber)
                .flatMap(found -> found.mergedInto().isEmpty()
                        ? Optional.of(found)
                        : findByClinicIdAndId(clinicId, found.mergedInto().get()));
    }

    /** The patient of a number as somebody typed it: capitals do not count where that leaves one patient alone. */
    default Optional<Patient> typed(ClinicId clinicId, String localNumber) {
        return known(clinicId, localNumber).or(() -> {
            List<Patient> found = findByClinicIdAndLocalNumberIgnoreCase(clinicId, localNumber);
            return found.size() == 1 ? known(clinicId, found.get(0).localNumber()) : Optional.empty();
        });
    }

    List<Patient> findByClinicIdAndLocalNumberIgnoreCase(ClinicId clinicId, String localNumber);

    /** Those with one of these dates of birth, second records left out. */
    @Query("""
            select new org.earslot.patient.Compared(p.id, p.localNumber, p.details.familyName, p.details.givenName, p.details.dateOfBirth,
                p.details.contact)
            from Patient p
            where p.clinicId = :clinicId and p.mergedInto is null and p.details.dateOfBirth in :births""")
    List<Compared> bornOn(ClinicId clinicId, Collection<LocalDate> births);

    /** Those of that telephone number, second records left out. */
    @Query("""
            select new org.earslot.patient.Compared(p.id, p.localNumber, p.details.familyName, p.details.givenName, p.details.dateOfBirth,
                p.details.contact)
            from Patient p
            where p.clinicId = :clinicId and p.mergedInto is null and p.phoneKey = :phone""")
    List<Compared> withPhone(ClinicId clinicId, String phone);

    /**
     * Those whose family name begins so, second records left out.
     *
     * @param anyBirth whether those with a date of birth count too
     * @param anyPhone whether those with a telephone number count too
     */
    @Query("""
            select new org.earslot.patient.Compared(p.id, p.localNumber, p.details.familyName, p.details.givenName, p.details.dateOfBirth,
                p.details.contact)
            from Patient p
            where p.clinicId = :clinicId and p.mergedInto is null and p.familyStart in :starts
              and (:anyBirth = true or p.details.dateOfBirth is null) and (:anyPhone = true or p.phoneKey is null)""")
    List<Compared> beginning(ClinicId clinicId, Collection<String> starts, boolean anyBirth, boolean anyPhone);

    /** Likewise those whose family name ends so. */
    @Query("""
            select new org.earslot.patient.Compared(p.id, p.localNumber, p.details.familyName, p.details.givenName, p.details.dateOfBirth,
                p.details.contact)
            from Patient p
            where p.clinicId = :clinicId and p.mergedInto is null and p.familyEnd in :ends
              and (:anyBirth = true or p.details.dateOfBirth is null) and (:anyPhone = true or p.phoneKey is null)""")
    List<Compared> ending(ClinicId clinicId, Collection<String> ends, boolean anyBirth, boolean anyPhone);

    /** Likewise those whose family name sounds so. */
    @Query("""
            select new org.earslot.patient.Compared(p.id, p.localNumber, p.details.familyName, p.details.givenName, p.details.dateOfBirth,
                p.details.contact)
            from Patient p
            where p.clinicId = :clinicId and p.mergedInto is null and p.familySound in :sounds
              and (:anyBirth = true or p.details.dateOfBirth is null) and (:anyPhone = true or p.phoneKey is null)""")
    List<Compared> sounding(ClinicId clinicId, Collection<String> sounds, boolean anyBirth, boolean anyPhone);

    /** Of every clinic, those whose keys are of an earlier version. */
    @Query("select p.id from Patient p where p.keysVersion < :version")
    List<UUID> withOlderKeys(int version, Limit limit);

    @Query("""
            select p from Patient p
            where p.clinicId = :clinicId and p.mergedInto is null and p.details.hearingAid = :answer""")
    List<Patient> withHearingAid(ClinicId clinicId, Answer answer);

    long countByClinicId(ClinicId clinicId);

    List<Patient> findByClinicIdAndLocalNumberIn(ClinicId clinicId, Collection<String> localNumbers);

    List<Patient> findByClinicIdAndIdIn(ClinicId clinicId, Collection<UUID> ids);
}
