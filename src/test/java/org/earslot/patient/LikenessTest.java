package org.earslot.patient;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import org.earslot.ear.Answer;
import org.earslot.patient.Likeness.Trait;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

public class LikenessTest {

    @ParameterizedTest
    @CsvSource({
        // kitten/sitting and saturday/sunday: the examples of Levenshtein distance in Wikipedia, "Levenshtein distance"
        "kitten, sitting, 3",
        "saturday, sunday, 3",
        // ca/abc: Wikipedia, "Damerau-Levenshtein distance": 3 by optimal string alignment (2 without its restriction)
        "ca, abc, 3",
        // counted by hand from here on
        "smith, smiht, 1",
        "'', abc, 3",
        "abc, '', 3",
        "same, same, 0"
    })
    void counts_slips_of_the_pen(String one, String other, int slips) {
        assertThat(Spelling.distance(one, other)).isEqualTo(slips);
        assertThat(Spelling.distance(other, one)).isEqualTo(slips);
    }

    @ParameterizedTest
    @CsvSource({
        "Ó Súilleabháin, osuilleabhain, true",
        "Wrenbottom, Wrenbotom, true",
        "Wrenbottom, Rwenbottom, true",
        "Wrenbottom, Wenbotom, true",
        "Wrenbottom, Wenbotum, false",
        "Lee, Leigh, false",
        "Lee, Lea, true",
        "Ng, Ngo, true",
        "'', '', false",
        "'--', Lee, false"
    })
    void takes_names_for_alike_within_a_slip_or_two(String one, String other, boolean alike) {
        assertThat(Spelling.alike(one, other)).isEqualTo(alike);
    }

    @ParameterizedTest
    @CsvSource({
        // family, given, born, phone of the second; the first is Wrenbottom, Ann, 1951-05-07, 01632 960 111
        "Wrenbottom, Ann, 1951-05-07, , true",
        "Wrenbotom, Anne, 1951-05-07, , true",
        "Ann, Wrenbottom, 1951-05-07, , true", // family and given name exchanged
        "Wrenbottom, A, 1951-05-07, , true", // an initial
        "Wrenbottom, Ann, 1951-07-05, , true", // day and month exchanged
        "Wrenbottom, Ann, 1951-05-01, , true", // one digit off
        "Wrenbottom, Ann, 1962-11-30, , false", // another person of the name
        "Wrenbottom, Ann, 1962-11-30, +44 1632 960111, true", // the same telephone
        "Wrenbottom, Ann, , , true", // date of birth not known, no number to tell them apart
        "Wrenbottom, Ann, , 01632 960 999, true",
        "Thistlewade, Orla, 1951-05-07, 01632-960111, true", // married since, perhaps: birth and telephone
        "Thistlewade, Orla, 1951-05-07, , false",
        "Thistlewade, Orla, 1962-11-30, 01632 960 111, false", // of one household
        "Wrenbottom, Bernard, 1951-05-07, , false"
    })
    void finds_one_person_in_two_records(String family, String given, LocalDate born, String phone, boolean one) {
        PatientDetails known =
                person("Wrenbottom", "Ann", LocalDate.of(1951, 5, 7), born == null ? null : "01632 960 111");
        PatientDetails typed = person(family, given, born, phone);
        assertThat(Likeness.of(known, typed).maybeOnePerson(known, typed)).isEqualTo(one);
        assertThat(Likeness.of(typed, known).maybeOnePerson(typed, known)).isEqualTo(one);
    }

    @ParameterizedTest
    @CsvSource({"12345, 12345, false", "call after six, call after six, false", "960111, 960111, true"})
    void compares_what_is_a_number(String one, String other, boolean same) {
        PatientDetails a = person("A", null, null, one);
        PatientDetails b = person("Zz", null, null, other);
        assertThat(Likeness.of(a, b).alike().contains(Trait.PHONE)).isEqualTo(same);
    }

    public static PatientDetails person(String family, String given, LocalDate born, String phone) {
        return new PatientDetails(
                family,
                given,
                born,
                phone,
                null,
                null,
                Answer.NOT_KNOWN,
                ContactRoute.NOT_KNOWN,
                null,
                null,
                null,
                null,
                Answer.NOT_KNOWN);
    }
}
