package org.earslot.referral;

import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Finds records that may be of the same person, before a second one is made. Reads every patient of the clinic that has a
 * name: names misspelt in their first letter are found too, which no index does.
 */
@Service
public class Duplicates {

    private static final int SHOWN = 5;

    private final Patients patients;

    Duplicates(Patients patients) {
        this.patients = patients;
    }

    /**
     * A record that may be of the same person.
     *
     * @param alike what agrees: {@code NAME}, {@code DATE_OF_BIRTH}, {@code PHONE}
     */
    public record Known(Patient patient, Set<String> alike) {}

    /** Those that may be the same person, most alike first; at most five. */
    @Transactional(readOnly = true)
    public List<Known> of(UUID clinicId, PatientDetails person) {
        if (person.familyName() == null && person.contact() == null) {
            return List.of();
        }
        return patients.named(clinicId).stream()
                .filter(known -> Likeness.of(person, known.details()).maybeOnePerson(person, known.details()))
                .sorted(Comparator.comparingInt((Patient known) ->
                                -Likeness.of(person, known.details()).alike().size())
                        .thenComparing(Patient::localNumber))
                .limit(SHOWN)
                .map(known -> new Known(
                        known,
                        Likeness.of(person, known.details()).alike().stream()
                                .map(Enum::name)
                                .collect(Collectors.toCollection(TreeSet::new))))
                .toList();
    }

    /** Those that may be the same person as a patient on record. */
    @Transactional(readOnly = true)
    public List<Known> of(Patient patient) {
        return of(patient.clinicId(), patient.details()).stream()
                .filter(known -> !known.patient().id().equals(patient.id()))
                .toList();
    }
}
