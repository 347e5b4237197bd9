package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.ear.Method.IRRIGATION;
import static org.earslot.ear.Method.MANUAL_REMOVAL;
import static org.earslot.ear.Method.MICROSUCTION;
import static org.earslot.referral.Verdict.CONTRAINDICATED;
import static org.earslot.referral.Verdict.PRECAUTION;
import static org.earslot.referral.Verdict.SUITABLE;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The rows are typed again from the sources each names in the table of cautions, not read from it. */
class MethodSuitabilityTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);
    private final MethodSuitability suitability = new MethodSuitability();

    @ParameterizedTest
    @CsvSource({
        "perforation, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "grommet, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "ear_surgery, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "mastoid_cavity, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "otitis_externa, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "recurrent_otitis_externa, PRECAUTION, PRECAUTION, PRECAUTION",
        "retraction_pocket, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "cholesteatoma, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "cleft_palate, CONTRAINDICATED, SUITABLE, SUITABLE",
        "foreign_body, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "only_hearing_ear, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "complication_before, CONTRAINDICATED, PRECAUTION, PRECAUTION",
        "tinnitus, PRECAUTION, PRECAUTION, SUITABLE",
        "noise_intolerance, PRECAUTION, PRECAUTION, SUITABLE",
        "dizziness, PRECAUTION, PRECAUTION, SUITABLE",
        "fainting, PRECAUTION, PRECAUTION, PRECAUTION",
        "anticoagulant, PRECAUTION, PRECAUTION, PRECAUTION",
        "bleeding_disorder, PRECAUTION, PRECAUTION, PRECAUTION",
        "diabetes, PRECAUTION, PRECAUTION, PRECAUTION",
        "immunocompromised, PRECAUTION, PRECAUTION, PRECAUTION",
        "radiotherapy, PRECAUTION, PRECAUTION, PRECAUTION",
        "canal_narrowing, PRECAUTION, PRECAUTION, PRECAUTION",
        "exostoses, PRECAUTION, PRECAUTION, PRECAUTION",
        "cannot_keep_still, CONTRAINDICATED, CONTRAINDICATED, CONTRAINDICATED"
    })
    void judges_each_caution_by_method(String caution, Verdict irrigation, Verdict suction, Verdict manual) {
        ReferralDetails referral = withCaution(Caution.of(caution).orElseThrow(), null, DAY);
        assertThat(verdict(referral, IRRIGATION, DAY)).isEqualTo(irrigation);
        assertThat(verdict(referral, MICROSUCTION, DAY)).isEqualTo(suction);
        assertThat(verdict(referral, MANUAL_REMOVAL, DAY)).isEqualTo(manual);
    }

    @ParameterizedTest
    @CsvSource({
        // caution, last so, judged on, irrigation: the last day of the period still counts
        "middle_ear_infection, 2026-01-20, 2026-03-02, CONTRAINDICATED",
        "middle_ear_infection, 2026-01-20, 2026-03-03, CONTRAINDICATED",
        "middle_ear_infection, 2026-01-20, 2026-03-04, SUITABLE",
        "mucus_discharge, 2025-03-03, 2026-03-02, CONTRAINDICATED",
        "mucus_discharge, 2025-03-03, 2026-03-03, CONTRAINDICATED",
        "mucus_discharge, 2025-03-03, 2026-03-04, SUITABLE",
        "mucus_discharge, 2024-02-29, 2025-02-28, CONTRAINDICATED",
        "mucus_discharge, 2024-02-29, 2025-03-01, SUITABLE",
        "healed_perforation, 2025-03-03, 2026-03-03, CONTRAINDICATED",
        "healed_perforation, 2025-03-03, 2026-03-04, PRECAUTION"
    })
    void judges_an_expiring_caution_on_the_date_itself(
            String caution, LocalDate since, LocalDate date, Verdict expected) {
        ReferralDetails referral = withCaution(Caution.of(caution).orElseThrow(), null, since);
        assertThat(verdict(referral, IRRIGATION, date)).isEqualTo(expected);
    }

    @Test
    void counts_an_expiring_caution_whose_date_is_not_known() {
        assertThat(verdict(withCaution(Caution.MIDDLE_EAR_INFECTION, null, null), IRRIGATION, DAY))
                .isEqualTo(CONTRAINDICATED);
    }

    @Test
    void leaves_a_caution_of_the_ear_not_treated_out() {
        ReferralDetails leftOnly = referral(Ears.LEFT, new AskedCaution(Caution.PERFORATION, Ear.RIGHT, null));
        assertThat(verdict(leftOnly, IRRIGATION, DAY)).isEqualTo(SUITABLE);
        ReferralDetails both = referral(Ears.BOTH, new AskedCaution(Caution.PERFORATION, Ear.RIGHT, null));
        assertThat(suitability.judge(both, IRRIGATION, DAY).reasons())
                .singleElement()
                .satisfies(reason -> assertThat(reason.ear()).contains(Ear.RIGHT));
    }

    @Test
    void names_a_source_for_every_cell_and_marks_what_is_from_memory() {
        assertThat(CautionTable.defaults().rules()).hasSizeGreaterThan(50).allSatisfy(rule -> {
            assertThat(rule.source()).isNotBlank();
            assertThat(rule.signedOff()).isEqualTo(!rule.source().startsWith("from memory"));
        });
        assertThat(verdict(withCaution(Caution.NEEDS_SUPPORT, null, null), IRRIGATION, DAY))
                .isEqualTo(SUITABLE);
        assertThat(PRECAUTION.orWorse(CONTRAINDICATED)).isEqualTo(CONTRAINDICATED);
    }

    private Verdict verdict(ReferralDetails referral, Method method, LocalDate date) {
        return suitability.judge(referral, method, date).verdict();
    }

    private static ReferralDetails withCaution(Caution caution, @Nullable Ear ear, @Nullable LocalDate since) {
        return referral(Ears.BOTH, new AskedCaution(caution, ear, since));
    }

    static ReferralDetails referral(Ears ears, AskedCaution... cautions) {
        return new ReferralDetails(
                null,
                DAY,
                null,
                Priority.ROUTINE,
                ears,
                MICROSUCTION,
                Answer.NOT_KNOWN,
                null,
                null,
                null,
                null,
                null,
                null,
                true,
                List.of(cautions),
                Map.of());
    }
}
