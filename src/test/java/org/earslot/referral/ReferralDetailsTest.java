package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.caution.CautionAnswers;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.junit.jupiter.api.Test;

class ReferralDetailsTest {

    @Test
    void changes_nothing_else_where_softener_days_are_recorded() {
        ReferralDetails said = new ReferralDetails(
                new ReferralSource("Self", LocalDate.of(2026, 3, 3), Origin.SELF_REFERRAL),
                new VisitRequest(
                        "blocked",
                        Priority.SOON,
                        Ears.BOTH,
                        Method.IRRIGATION,
                        Answer.NO,
                        null,
                        null,
                        "pain",
                        null,
                        null,
                        Answer.YES),
                ReportedEars.UNKNOWN,
                new CautionAnswers(true, List.of(), Set.of(Caution.TINNITUS), List.of()),
                new RedFlagAnswers(Map.of(RedFlag.values()[0], Answer.NO), null));
        ReferralDetails then = said.with(said.request().withSoftenerDays(4));
        assertThat(then.request().softenerDays()).isEqualTo(4);
        assertThat(then)
                .usingRecursiveComparison()
                .ignoringFields("request.softenerDays")
                .isEqualTo(said);
    }
}
