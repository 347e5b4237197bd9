package org.earslot.caution;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.caution.SoftenerAdvice.Use.ALLOWED;
import static org.earslot.caution.SoftenerAdvice.Use.ASK_CLINICIAN;
import static org.earslot.caution.SoftenerAdvice.Use.FORBIDDEN;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.caution.SoftenerAdvice.Part;
import org.earslot.caution.SoftenerAdvice.Reason;
import org.earslot.caution.SoftenerAdvice.Use;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class SoftenerAdviceTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 4);

    /** Written by hand, apart from the rule: MSD Manual for the first three, the others common practice, no source. */
    private static final Map<Use, Set<String>> EXPECTED = Map.of(
            FORBIDDEN,
            Set.of("perforation", "grommet", "softener_allergy"),
            ASK_CLINICIAN,
            Set.of(
                    "healed_perforation",
                    "ear_surgery",
                    "mastoid_cavity",
                    "middle_ear_infection",
                    "mucus_discharge",
                    "otitis_externa",
                    "foreign_body",
                    "injury_lately",
                    "pain_or_discharge_now",
                    "ear_implant",
                    "stapes_surgery",
                    "recent_ear_surgery"));

    static Stream<Arguments> everyCaution() {
        return Arrays.stream(Caution.values())
                .map(caution -> Arguments.of(
                        caution,
                        EXPECTED.entrySet().stream()
                                .filter(row -> row.getValue().contains(caution.code()))
                                .map(Map.Entry::getKey)
                                .findFirst()
                                .orElse(ALLOWED)));
    }

    @ParameterizedTest
    @MethodSource("everyCaution")
    void judges_each_caution_known_or_not_for_the_ear_it_belongs_to(Caution caution, Use expected) {
        for (Ears treated : Ears.values()) {
            assertThat(of(treated, Set.of(), yes(caution, null)).use()).isEqualTo(expected);
            assertThat(of(treated, Set.of(caution)).use()).isEqualTo(expected);
            for (Ear ear : Ear.values()) {
                assertThat(of(treated, Set.of(), yes(caution, ear)).use())
                        .isEqualTo(treated.include(ear) ? expected : ALLOWED);
            }
        }
    }

    @Test
    void says_of_each_ear_what_holds_for_it() {
        SoftenerAdvice advice =
                of(Ears.BOTH, Set.of(), yes(Caution.PERFORATION, Ear.RIGHT), yes(Caution.TINNITUS, null));
        assertThat(advice.parts())
                .containsExactly(
                        new Part(Ears.RIGHT, FORBIDDEN, List.of(new Reason(Caution.PERFORATION, false))),
                        new Part(Ears.LEFT, ALLOWED, List.of()));
        assertThat(of(Ears.BOTH, Set.of(Caution.GROMMET)).parts())
                .containsExactly(new Part(Ears.BOTH, FORBIDDEN, List.of(new Reason(Caution.GROMMET, true))));
    }

    @Test
    void asks_a_clinician_where_the_cautions_were_never_asked() {
        CautionSummary unasked = known(false, Set.of());
        assertThat(SoftenerAdvice.of(unasked, Ears.LEFT, DAY).use()).isEqualTo(ASK_CLINICIAN);
        assertThat(SoftenerAdvice.ofNobodyKnown(Ears.LEFT).use()).isEqualTo(ASK_CLINICIAN);
        CautionSummary told = known(false, Set.of(), yes(Caution.PERFORATION, Ear.LEFT));
        assertThat(SoftenerAdvice.of(told, Ears.LEFT, DAY).use()).isEqualTo(FORBIDDEN);
    }

    @Test
    void counts_what_was_known_earlier_even_if_todays_answers_leave_it_out() {
        PatientCaution earlier = new PatientCaution(
                ClinicId.random(),
                UUID.randomUUID(),
                yes(Caution.PERFORATION, Ear.LEFT),
                PatientCaution.Basis.FOUND,
                DAY.minusYears(1),
                "p1");
        CautionSummary toConfirm =
                new CautionSummary(true, List.of(), List.of(), List.of(earlier), List.of(), List.of());
        CautionSummary contradicted =
                new CautionSummary(true, List.of(), List.of(), List.of(), List.of(earlier), List.of());
        assertThat(SoftenerAdvice.of(toConfirm, Ears.LEFT, DAY).use()).isEqualTo(FORBIDDEN);
        assertThat(SoftenerAdvice.of(contradicted, Ears.LEFT, DAY).use()).isEqualTo(FORBIDDEN);
        assertThat(SoftenerAdvice.of(contradicted, Ears.RIGHT, DAY).use()).isEqualTo(ALLOWED);
    }

    @ParameterizedTest
    @CsvSource({
        // an operation on the ear is recent for 6 months, on the day itself too, and where its date is not known
        "2025-09-04, ASK_CLINICIAN",
        "2025-09-03, ALLOWED",
        ", ASK_CLINICIAN"
    })
    void asks_a_clinician_after_a_recent_operation_on_the_ear(LocalDate since, Use expected) {
        AskedCaution surgery = new AskedCaution(Caution.EAR_SURGERY, Ear.LEFT, since);
        assertThat(of(Ears.LEFT, Set.of(), surgery).use()).isEqualTo(expected);
    }

    @Test
    void minds_no_grommet_that_is_out_once_the_drum_is_known_to_be_intact() {
        AskedCaution out = new AskedCaution(Caution.GROMMET, Ear.LEFT, LocalDate.of(2023, 1, 1), null, true);
        assertThat(of(Ears.LEFT, Set.of(), out).use()).isEqualTo(ALLOWED);
    }

    @Test
    void knows_an_allergy_from_a_drum_that_may_be_open() {
        SoftenerAdvice allergy = of(Ears.LEFT, Set.of(), yes(Caution.SOFTENER_ALLERGY, null));
        assertThat(allergy.drumInDoubt()).isFalse();
        assertThat(allergy.parts().get(0).byAllergyAlone()).isTrue();
        SoftenerAdvice both = of(Ears.LEFT, Set.of(Caution.PERFORATION), yes(Caution.SOFTENER_ALLERGY, null));
        assertThat(both.drumInDoubt()).isTrue();
        assertThat(both.parts().get(0).byAllergyAlone()).isFalse();
    }

    @Test
    void is_usual_before_water_and_suction_and_before_no_other_kind_of_visit() {
        assertThat(SoftenerAdvice.usualBefore(Method.IRRIGATION)).isTrue();
        assertThat(SoftenerAdvice.usualBefore(Method.MICROSUCTION)).isTrue();
        assertThat(SoftenerAdvice.usualBefore(Method.MANUAL_REMOVAL)).isFalse();
        assertThat(SoftenerAdvice.usualBefore(null)).isFalse();
    }

    private static AskedCaution yes(Caution caution, Ear ear) {
        return new AskedCaution(caution, ear, null);
    }

    private static SoftenerAdvice of(Ears ears, Set<Caution> notKnown, AskedCaution... cautions) {
        return SoftenerAdvice.of(known(true, notKnown, cautions), ears, DAY);
    }

    private static CautionSummary known(boolean asked, Set<Caution> notKnown, AskedCaution... cautions) {
        return new CautionSummary(asked, List.of(cautions), List.copyOf(notKnown), List.of(), List.of(), List.of());
    }
}
