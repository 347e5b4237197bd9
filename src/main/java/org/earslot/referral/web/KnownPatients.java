package org.earslot.referral.web;

import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.patient.Duplicates;
import org.earslot.patient.Duplicates.Known;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.PatientSearch;
import org.springframework.stereotype.Component;

/** Patients on record who may be meant by what is being typed. */
@Component
class KnownPatients {

    private static final int SHOWN = 5;
    /** A name of fewer letters is still being typed. */
    private static final int ENOUGH = 3;

    private final Duplicates duplicates;
    private final PatientSearch search;
    private final ClinicReferrals shown;

    KnownPatients(Duplicates duplicates, PatientSearch search, ClinicReferrals shown) {
        this.duplicates = duplicates;
        this.search = search;
        this.shown = shown;
    }

    /** Those who may be the same person, else those of such a name; at most five, and noted as shown. */
    List<Known> of(PatientDetails person) {
        List<Known> alike = duplicates.of(shown.clinicId(), person);
        List<Known> found = alike.isEmpty() ? named(person) : alike;
        shown.viewed(
                "may be the same person",
                found.stream().map(one -> one.patient().id()).toList());
        return found;
    }

    private List<Known> named(PatientDetails person) {
        String name = Stream.of(person.familyName(), person.givenName())
                .filter(part -> part != null && part.length() >= ENOUGH)
                .collect(Collectors.joining(" "));
        if (name.isEmpty()) {
            return List.of();
        }
        return search.find(shown.clinicId(), name, shown.today()).patients().stream()
                .filter(one -> !bornOtherwise(one, person))
                .limit(SHOWN)
                .map(one -> new Known(one, Set.of("NAME")))
                .toList();
    }

    private static boolean bornOtherwise(Patient one, PatientDetails person) {
        return person.dateOfBirth() != null
                && one.details().dateOfBirth() != null
                && !person.dateOfBirth().equals(one.details().dateOfBirth());
    }
}
