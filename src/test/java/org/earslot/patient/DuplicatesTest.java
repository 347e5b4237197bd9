package org.earslot.patient;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.patient.LikenessTest.person;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.hamcrest.Matchers;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.web.servlet.MockMvc;

@PageTest
class DuplicatesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Patients patients;

    @Autowired
    private Duplicates duplicates;

    @Autowired
    private PatientKeysMade keys;

    @Autowired
    private JdbcTemplate jdbc;

    @Autowired
    private ClinicClock clock;

    private ClinicId clinic;

    @BeforeEach
    void opensAClinic() {
        clinic = clinics.open().id();
    }

    @ParameterizedTest
    @CsvSource({
        // family, given, born, phone as asked; on record: Wrenbottom, Ann, 1951-05-07, 01632 960 111
        "Wrenbottom, Ann, 1951-05-07, , true",
        "Rwenbottom, Anne, 1951-05-07, , true",
        "Wrenbottom, Ann, 1951-07-05, , true",
        "Wrenbottom, Ann, 1957-05-07, , true",
        "Ann, Wrenbottom, 1951-05-07, , true",
        "Vrenbottom, Ann, , +44 1632 960111, true",
        "Somebody, Else, 1951-05-07, 01632960111, true",
        "Somebody, Else, 1951-05-07, , false",
        "Wrenbottom, Ann, , , true",
        "Wrenbotom, , , , true",
        "Renbottom, Ann, , , true",
        "Ann, Wrenbottom, , , true",
        "Wrenbottom, Bob, , , false",
        "Wrenbottom, Ann, 1962-11-30, 01632 960 999, false"
    })
    void finds_them_by_what_the_database_keeps(
            String family, @Nullable String given, @Nullable LocalDate born, @Nullable String phone, boolean found) {
        Patient known = patient("K1", person("Wrenbottom", "Ann", LocalDate.of(1951, 5, 7), "01632 960 111"));
        patient("K2", person("Thackwing", "Ombrel", LocalDate.of(1951, 5, 8), "01632 960 222"));
        assertThat(duplicates.of(clinic, person(family, given, born, phone)))
                .extracting(one -> one.patient().id())
                .isEqualTo(found ? List.of(known.id()) : List.of());
        assertThat(duplicates.of(clinics.open().id(), person(family, given, born, phone)))
                .isEmpty();
    }

    @Test
    void finds_a_record_without_date_of_birth_by_a_name_misspelt() {
        Patient known = patient("K1", person("Wrenbottom", "Ann", null, null));
        assertThat(duplicates.of(clinic, person("Wrenbotten", "Ann", LocalDate.of(1951, 5, 7), "01632 960 111")))
                .extracting(one -> one.patient().id())
                .containsExactly(known.id());
    }

    @Test
    void puts_those_most_alike_first_and_shows_five() {
        IntStream.range(0, 7).forEach(i -> patient("K" + i, person("Wrenbottom", "Ann", null, null)));
        patient("Z", person("Wrenbottom", "Ann", LocalDate.of(1951, 5, 7), null));
        assertThat(duplicates.of(clinic, person("Wrenbottom", "Ann", LocalDate.of(1951, 5, 7), null)))
                .hasSize(5)
                .first()
                .satisfies(one -> assertThat(one.patient().localNumber()).isEqualTo("Z"));
    }

    @Test
    void finds_records_of_an_earlier_version_once_their_keys_are_made() {
        Patient known = patient("K1", person("Wrenbottom", "Ann", null, "01632 960 111"));
        int version = patients.findById(known.id()).orElseThrow().version();
        jdbc.update("""
                update patient set family_start = null, family_end = null, family_sound = null, phone_key = null,
                    keys_version = 0 where id = ?""", known.id());
        PatientDetails asked = person("Wrenbottom", "Ann", null, "01632 960 111");
        assertThat(duplicates.of(clinic, asked)).isEmpty();
        keys.make();
        assertThat(duplicates.of(clinic, asked)).hasSize(1);
        assertThat(patients.findById(known.id()).orElseThrow().version()).isEqualTo(version);
    }

    /** Every name one slip away: a letter left out, put in, changed, or two neighbours exchanged. */
    @ParameterizedTest
    @ValueSource(strings = {"Lamb", "Seden", "Wrenbottom", "Thackwing", "Sedgequill", "Ó Súilleabháin", "Quell"})
    void shares_a_key_with_every_spelling_one_slip_away(String name) {
        String plain = Spelling.plain(name);
        NameKeys own = NameKeys.of(name).orElseThrow();
        assertThat(oneSlip(plain).filter(other -> other.length() > 3))
                .hasSizeGreaterThan(100)
                .allSatisfy(other -> {
                    NameKeys keys = NameKeys.of(other).orElseThrow();
                    assertThat(keys.start().equals(own.start())
                                    || keys.end().equals(own.end())
                                    || keys.sound().equals(own.sound()))
                            .as(other)
                            .isTrue();
                });
    }

    @Test
    void takes_hostile_and_strange_names_as_they_are() {
        patient("K1", person("'; drop table patient; --", "<b>", null, null));
        patient("K2", person("👂".repeat(60), "👂", null, "👂"));
        patient("K3", person("𐐀𐐁𐐂", "𐐃", null, null));
        patient("K4", person("x".repeat(120), "%", null, null));
        assertThat(duplicates.of(clinic, person("'; drop table patient; --", "<b>", null, null)))
                .hasSize(1);
        assertThat(duplicates.of(clinic, person("👂", "👂", null, null))).isEmpty();
        assertThat(duplicates.of(clinic, person("𐐀𐐁𐐂", null, null, null))).hasSize(1);
        assertThat(duplicates.of(clinic, person("%", "_", null, null))).isEmpty();
        assertThat(duplicates.of(clinic, person("x".repeat(10_000), null, null, null)))
                .isEmpty();
        assertThat(NameKeys.of("12 --")).isEqualTo(Optional.empty());
    }

    @ParameterizedTest
    @CsvSource({"1951-05-07, 1951-05-17, true", "1952-02-29, 1952-02-28, true", "1951-05-07, 1951-06-08, false"})
    void takes_every_date_a_digit_away_that_there_is(LocalDate one, LocalDate other, boolean alike) {
        assertThat(Likeness.birthsAlike(one).contains(other)).isEqualTo(alike);
        assertThat(Likeness.birthsAlike(one)).contains(one).hasSizeLessThan(80);
    }

    @Test
    void tells_a_program_by_local_number_whose_records_may_be_of_the_same_person() throws Exception {
        patient("K1", person("Wrenbottom", "Ann", LocalDate.of(1951, 5, 7), null));
        String body = """
                {"patientRef":"K2","familyName":"Wrenbotom","givenName":"Ann","dateOfBirth":"1951-05-07",
                 "method":"microsuction","ears":["right"]}""";
        mvc.perform(post("/api/v1/referrals")
                        .with(SignedIn.program(clinic))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(body))
                .andExpect(status().isCreated())
                .andExpect(jsonPath("$.id").exists())
                .andExpect(jsonPath("$.maybeSamePerson[0].patientRef").value("K1"))
                .andExpect(jsonPath("$.maybeSamePerson[0].alike", Matchers.contains("date_of_birth", "name")))
                .andExpect(content().string(Matchers.not(Matchers.containsString("Wrenbot"))));
        mvc.perform(post("/api/v1/referrals")
                        .with(SignedIn.program(clinic))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(body.replace("Wrenbotom", "Thackwing").replace("K2", "K3")))
                .andExpect(status().isCreated())
                .andExpect(jsonPath("$.maybeSamePerson").isEmpty());
        assertThat(patients.countByClinicId(clinic)).isEqualTo(3);
    }

    private static Stream<String> oneSlip(String plain) {
        Stream<String> gone =
                IntStream.range(0, plain.length()).mapToObj(i -> plain.substring(0, i) + plain.substring(i + 1));
        Stream<String> exchanged = IntStream.range(0, plain.length() - 1)
                .mapToObj(i -> plain.substring(0, i) + plain.charAt(i + 1) + plain.charAt(i) + plain.substring(i + 2));
        Stream<String> more = letters()
                .flatMap(letter -> IntStream.rangeClosed(0, plain.length())
                        .mapToObj(i -> plain.substring(0, i) + letter + plain.substring(i)));
        Stream<String> changed = letters()
                .flatMap(letter -> IntStream.range(0, plain.length())
                        .mapToObj(i -> plain.substring(0, i) + letter + plain.substring(i + 1)));
        return Stream.of(gone, exchanged, more, changed).flatMap(each -> each);
    }

    private static Stream<String> letters() {
        return IntStream.rangeClosed('a', 'z').mapToObj(Character::toString);
    }

    private Patient patient(String number, PatientDetails details) {
        return patients.save(new Patient(UUID.randomUUID(), clinic, number, details, clock.now()));
    }
}
