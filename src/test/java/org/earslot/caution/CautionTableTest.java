package org.earslot.caution;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.caution.Verdict.CONTRAINDICATED;
import static org.earslot.caution.Verdict.PRECAUTION;
import static org.earslot.caution.Verdict.SUITABLE;
import static org.earslot.ear.Method.IRRIGATION;
import static org.earslot.ear.Method.MICROSUCTION;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.earslot.caution.Suitability.Remark;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Every cell of the table of cautions, typed again from the sources that each names, not read from it. C contraindicated,
 * P precaution, - no rule found.
 */
class CautionTableTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

    private static final Map<Character, String> SOURCES = Map.ofEntries(
            Map.entry('T', "NHS board referral guide after NICE CKS (UK"),
            Map.entry('E', "Primary Ear Care Centre irrigation guideline (UK"),
            Map.entry('X', "Primary Ear Care Centre page on contraindications to irrigation (UK, read 2026)"),
            Map.entry('A', "AAO-HNS earwax guideline 2017"),
            Map.entry('D', "MSD Manual professional edition, removal of earwax, 2023 (US)"),
            Map.entry('K', "list after NICE CKS, seen second-hand only (UK"),
            Map.entry('L', "commissioning policy, seen second-hand only (UK"),
            Map.entry('S', "Medscape 1413546 (US, year not known)"),
            Map.entry('W', "Prowse & Mulla 2014"),
            Map.entry('!', "the sources differ"),
            Map.entry('R', "read across"),
            Map.entry('C', "common practice, no source"),
            Map.entry('M', "from memory"));

    /** caution, then verdict and sources by irrigation, microsuction, manual removal; R, C and M are marks besides. */
    private static final String TABLE = """
            perforation               C TXA  P M!  P M
            grommet                   C TXA  P M!  P M
            healed_perforation        C EKR! - -   - -
            ear_surgery               C TX   P W   P M
            mastoid_cavity            C TX   P W!  P M
            middle_ear_infection      C TX   P M   P M
            mucus_discharge           C TX   - -   - -
            otitis_externa            C X    P M   P M
            recurrent_otitis_externa  C LR!  P M   P M
            retraction_pocket         C X    P M   P M
            cholesteatoma             C X    P M   P M
            cleft_palate              C TXE! - -   - -
            foreign_body              C TX   C C   C C
            only_hearing_ear          C T    P M   P M
            complication_before       C X    P M   P M
            tinnitus                  P EX!  P S   - -
            noise_intolerance         P E    P M   - -
            dizziness                 P E    P M   - -
            fainting                  P M    P M   P M
            anticoagulant             P EAD! P AR  P AR
            bleeding_disorder         P EAR  P AR  P AR
            diabetes                  P AD!  P AR  P AR
            immunocompromised         P AD!  P AR  P AR
            radiotherapy              P AD!  P AR  P AR
            canal_narrowing           P AD!  P AR  P AR
            exostoses                 P AD!  P AR  P AR
            cannot_keep_still         C MKD  C M   C M
            needs_support             P C    P C   P C
            softener_allergy          P DR   P DR  P DR
            injury_lately             C C    P C   P C
            pain_or_discharge_now     C C    P C   P C
            ear_implant               C C    P C   P C
            stapes_surgery            C C    P C   P C
            recent_ear_surgery        C C    C C   C C
            keratosis_obturans        C C    P C   P C
            canal_skin_disease        P C    P C   P C
            vertigo_history           P C    P C   - -
            capacity_to_consent       P C    P C   P C
            severe_anxiety            P C    P C   P C
            infection_control         P C    P C   P C
            cannot_be_positioned      P C    P C   P C
            latex_allergy             P C    P C   P C
            """;

    private final CautionTable table = CautionTable.defaults();

    record Cell(Caution caution, Method method, Verdict verdict, String sources) {}

    static Stream<Cell> cells() {
        return TABLE.lines().flatMap(line -> {
            String[] words = line.split("\\s+");
            Caution caution = Caution.of(words[0]).orElseThrow();
            return Arrays.stream(Method.values())
                    .map(method -> new Cell(
                            caution,
                            method,
                            verdict(words[1 + 2 * method.ordinal()]),
                            words[2 + 2 * method.ordinal()]));
        });
    }

    private static Verdict verdict(String letter) {
        return letter.equals("C") ? CONTRAINDICATED : letter.equals("P") ? PRECAUTION : SUITABLE;
    }

    @Test
    void is_typed_again_for_every_caution_and_method() {
        assertThat(cells()).hasSize(Caution.values().length * Method.values().length);
        assertThat(Method.values()).containsExactly(IRRIGATION, MICROSUCTION, Method.MANUAL_REMOVAL);
    }

    @ParameterizedTest
    @MethodSource("cells")
    void judges_and_names_the_sources_of_each_cell(Cell cell) {
        ReferralDetails asked = with(Ears.BOTH, new AskedCaution(cell.caution(), null, DAY));
        assertThat(judge(table, asked, cell.method(), DAY).verdict()).isEqualTo(cell.verdict());
        List<CautionRule> rules = table.rules(cell.caution(), cell.method());
        assertThat(rules.isEmpty()).isEqualTo(cell.verdict() == SUITABLE);
        String said = String.join("; ", rules.stream().map(CautionRule::source).toList());
        cell.sources()
                .chars()
                .filter(letter -> letter != '-')
                .forEach(letter -> assertThat(said).contains(SOURCES.get((char) letter)));
        if (!rules.isEmpty()) {
            assertThat(rules.get(rules.size() - 1).mark()).isEqualTo(mark(cell.sources()));
        }
    }

    /** A source that cannot be found again is as good as none: each names its year and country, or that they are not known. */
    @Test
    void each_published_source_names_its_year_and_country() {
        List<String> sources = CautionTable.defaults().rules().stream()
                .filter(rule -> rule.mark() == Mark.PUBLISHED || rule.mark() == Mark.READ_ACROSS)
                .flatMap(rule -> Arrays.stream(rule.source().split("; ")))
                .toList();
        assertThat(sources)
                .hasSizeGreaterThan(50)
                .allSatisfy(source -> assertThat(source)
                        .containsPattern("\\b(19|20)\\d\\d\\b|year not known")
                        .containsPattern("\\((UK|US)\\b|country and section not known"));
    }

    private static Mark mark(String sources) {
        if (sources.contains("R")) {
            return Mark.READ_ACROSS;
        } else if (sources.contains("C")) {
            return Mark.COMMON_PRACTICE;
        }
        return sources.contains("M") ? Mark.FROM_MEMORY : Mark.PUBLISHED;
    }

    /** However well a cell is published, somebody here has to sign it off. */
    @Test
    void is_signed_off_by_nobody_as_delivered() {
        assertThat(table.unsigned()).isEqualTo(cells().count());
        assertThat(table.rules()).allSatisfy(rule -> {
            assertThat(rule.signedOff()).isFalse();
            assertThat(rule.source().length()).isBetween(5, 500);
        });
    }

    @ParameterizedTest
    @CsvSource({
        // caution, last so, judged on, irrigation
        // "in the last 6 weeks": 42 days less one, on the day, plus one
        "middle_ear_infection, 2026-01-20, 2026-03-02, CONTRAINDICATED",
        "middle_ear_infection, 2026-01-20, 2026-03-03, CONTRAINDICATED",
        "middle_ear_infection, 2026-01-20, 2026-03-04, SUITABLE",
        "middle_ear_infection, 2024-02-29, 2024-04-11, CONTRAINDICATED",
        "middle_ear_infection, 2024-02-29, 2024-04-12, SUITABLE",
        // "in the last 12 months"
        "mucus_discharge, 2025-03-03, 2026-03-02, CONTRAINDICATED",
        "mucus_discharge, 2025-03-03, 2026-03-03, CONTRAINDICATED",
        "mucus_discharge, 2025-03-03, 2026-03-04, SUITABLE",
        // a year after 29 February is 28 February; after 28 February of a leap year's eve it is 28 February too
        "mucus_discharge, 2024-02-29, 2025-02-28, CONTRAINDICATED",
        "mucus_discharge, 2024-02-29, 2025-03-01, SUITABLE",
        "mucus_discharge, 2023-02-28, 2024-02-28, CONTRAINDICATED",
        "mucus_discharge, 2023-02-28, 2024-02-29, SUITABLE",
        // healed perforation: contraindicated within 12 months, a precaution ever after
        "healed_perforation, 2025-03-03, 2026-03-02, CONTRAINDICATED",
        "healed_perforation, 2025-03-03, 2026-03-03, CONTRAINDICATED",
        "healed_perforation, 2025-03-03, 2026-03-04, PRECAUTION"
    })
    void judges_an_expiring_caution_on_the_date_itself(
            String caution, LocalDate since, LocalDate date, Verdict expected) {
        ReferralDetails asked =
                with(Ears.BOTH, new AskedCaution(Caution.of(caution).orElseThrow(), null, since));
        assertThat(judge(table, asked, IRRIGATION, date).verdict()).isEqualTo(expected);
    }

    @ParameterizedTest
    @CsvSource({
        // grommet out "at least 18 months": less a day, on the day, plus a day
        "2024-09-03, true, 2026-03-02, CONTRAINDICATED",
        "2024-09-03, true, 2026-03-03, SUITABLE",
        "2024-09-03, true, 2026-03-04, SUITABLE",
        // 18 months after 31 August is the last of February
        "2024-08-31, true, 2026-02-27, CONTRAINDICATED",
        "2024-08-31, true, 2026-02-28, SUITABLE",
        "2022-08-31, true, 2024-02-28, CONTRAINDICATED",
        "2022-08-31, true, 2024-02-29, SUITABLE",
        // without the all-clear, or without a date, time alone ends nothing
        "2010-01-01, false, 2026-03-03, CONTRAINDICATED",
        ", true, 2026-03-03, CONTRAINDICATED"
    })
    void ends_a_grommet_after_18_months_with_an_all_clear(
            LocalDate since, boolean allClear, LocalDate date, Verdict expected) {
        ReferralDetails asked = with(Ears.LEFT, new AskedCaution(Caution.EAR_SURGERY, null, since, null, allClear));
        assertThat(judge(table, asked, IRRIGATION, date).verdict()).isEqualTo(expected);
    }

    @Test
    void counts_an_expiring_caution_whose_date_is_not_known() {
        ReferralDetails asked = with(Ears.BOTH, new AskedCaution(Caution.MIDDLE_EAR_INFECTION, null, null));
        assertThat(judge(table, asked, IRRIGATION, DAY).verdict()).isEqualTo(CONTRAINDICATED);
    }

    @Test
    void judges_each_ear_by_its_own_cautions() {
        ReferralDetails asked = with(Ears.BOTH, new AskedCaution(Caution.PERFORATION, Ear.RIGHT, null));
        Suitability suits = judge(table, asked, IRRIGATION, DAY);
        assertThat(suits.verdict(Ear.RIGHT)).isEqualTo(CONTRAINDICATED);
        assertThat(suits.verdict(Ear.LEFT)).isEqualTo(SUITABLE);
        assertThat(suits.contraindicated()).isTrue();
        ReferralDetails leftOnly = with(Ears.LEFT, new AskedCaution(Caution.PERFORATION, Ear.RIGHT, null));
        assertThat(judge(table, leftOnly, IRRIGATION, DAY).verdict()).isEqualTo(SUITABLE);
    }

    @Test
    void counts_a_complication_for_its_own_method_only() {
        ReferralDetails asked =
                with(Ears.BOTH, new AskedCaution(Caution.COMPLICATION_BEFORE, null, DAY, MICROSUCTION, false));
        assertThat(judge(table, asked, IRRIGATION, DAY).verdict()).isEqualTo(SUITABLE);
        assertThat(judge(table, asked, MICROSUCTION, DAY).verdict()).isEqualTo(PRECAUTION);
    }

    @Test
    void takes_a_caution_that_nobody_could_answer_for_a_precaution() {
        ReferralDetails asked = details(Ears.BOTH, null, List.of(), Set.of(Caution.PERFORATION));
        assertThat(judge(table, asked, IRRIGATION, DAY).reasons())
                .singleElement()
                .satisfies(reason -> {
                    assertThat(reason.notKnown()).isTrue();
                    assertThat(reason.verdict()).isEqualTo(PRECAUTION);
                });
        ReferralDetails answeredNo = details(Ears.BOTH, null, List.of(), Set.of());
        assertThat(judge(table, answeredNo, IRRIGATION, DAY).verdict()).isEqualTo(SUITABLE);
    }

    /** Temporary threshold shift: Cronin &amp; Zhao 2020. */
    @Test
    void minds_a_hearing_test_straight_after_suction() {
        ReferralDetails asked = details(Ears.BOTH, "Hearing test", List.of(), Set.of());
        assertThat(judge(table, asked, MICROSUCTION, DAY).remarks()).containsExactly(Remark.HEARING_TEST_AFTER_SUCTION);
        assertThat(judge(table, asked, MICROSUCTION, DAY).verdict()).isEqualTo(PRECAUTION);
        assertThat(judge(table, asked, IRRIGATION, DAY).verdict()).isEqualTo(SUITABLE);
    }

    static ReferralDetails with(Ears ears, AskedCaution... cautions) {
        return details(ears, null, List.of(cautions), Set.of());
    }

    private static Suitability judge(CautionTable table, ReferralDetails said, Method method, LocalDate date) {
        VisitRequest request = said.request();
        return table.judge(said.cautions(), request.ears(), request.hearingTestFollows(), method, date);
    }

    private static ReferralDetails details(
            Ears ears, String mustFollow, List<AskedCaution> cautions, Set<Caution> notKnown) {
        return new ReferralDetails(
                new ReferralSource(null, DAY, Origin.REFERRAL),
                new VisitRequest(
                        null,
                        Priority.ROUTINE,
                        ears,
                        MICROSUCTION,
                        Answer.NOT_KNOWN,
                        null,
                        null,
                        null,
                        mustFollow,
                        null,
                        Answer.NOT_KNOWN),
                ReportedEars.UNKNOWN,
                new CautionAnswers(true, cautions, notKnown, List.of()),
                RedFlagAnswers.NOT_ASKED);
    }
}
