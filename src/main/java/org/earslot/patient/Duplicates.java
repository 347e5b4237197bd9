package org.earslot.patient;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicId;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Finds records that may be of the same person, before a second one is made. The database gives those that share a date of
 * birth (or one a slip away), a telephone number or, where a date or a number is open, a key of the family name; {@link
 * Likeness} judges them.
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
    public List<Known> of(ClinicId clinicId, PatientDetails person) {
        if (person.familyName() == null && person.contact() == null) {
            return List.of();
        }
        Map<UUID, Likeness> alike = new LinkedHashMap<>();
        candidates(clinicId, person)
                .sorted(Comparator.comparing(Compared::localNumber))
                .forEach(one -> {
                    Likeness likeness = Likeness.of(person, one.details());
                    if (likeness.maybeOnePerson(person, one.details())) {
                        alike.put(one.id(), likeness);
                    }
                });
        Map<UUID, Patient> most = patients
                .findByClinicIdAndIdIn(
                        clinicId,
                        alike.entrySet().stream()
                                .sorted(Comparator.comparingInt(
                                        one -> -one.getValue().alike().size()))
                                .limit(SHOWN)
                                .map(Map.Entry::getKey)
                                .toList())
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
        return alike.entrySet().stream()
                .filter(one -> most.containsKey(one.getKey()))
                .sorted(Comparator.comparingInt(one -> -one.getValue().alike().size()))
                .map(one -> new Known(
                        most.get(one.getKey()),
                        one.getValue().alike().stream().map(Enum::name).collect(Collectors.toCollection(TreeSet::new))))
                .toList();
    }

    /** Everyone who can be alike enough: two traits of three, or the name where nothing else can tell. */
    private Stream<Compared> candidates(ClinicId clinicId, PatientDetails person) {
        LocalDate birth = person.dateOfBirth();
        Optional<String> phone = Likeness.phoneKey(person.contact());
        Stream<Compared> born =
                birth == null ? Stream.of() : patients.bornOn(clinicId, Likeness.birthsAlike(birth)).stream();
        Stream<Compared> called = phone.stream().flatMap(key -> patients.withPhone(clinicId, key).stream());
        return Stream.of(born, called, named(clinicId, person, birth == null, phone.isEmpty()))
                .flatMap(Function.identity());
    }

    /** By the family name, and by the given name in its place. */
    private Stream<Compared> named(ClinicId clinicId, PatientDetails person, boolean anyBirth, boolean anyPhone) {
        List<NameKeys> keys = Stream.of(person.familyName(), person.givenName())
                .flatMap(name -> NameKeys.of(name).stream())
                .toList();
        if (keys.isEmpty()) {
            return Stream.of();
        }
        List<String> starts = keys.stream().map(NameKeys::start).toList();
        List<String> ends = keys.stream().map(NameKeys::end).toList();
        List<String> sounds = keys.stream().map(NameKeys::sound).toList();
        return Stream.of(
                        patients.beginning(clinicId, starts, anyBirth, anyPhone),
                        patients.ending(clinicId, ends, anyBirth, anyPhone),
                        patients.sounding(clinicId, sounds, anyBirth, anyPhone))
                .flatMap(List::stream);
    }

    /** Those that may be the same person as a patient on record. */
    @Transactional(readOnly = true)
    public List<Known> of(Patient patient) {
        return of(patient.clinicId(), patient.details()).stream()
                .filter(known -> !known.patient().id().equals(patient.id()))
                .toList();
    }
}
