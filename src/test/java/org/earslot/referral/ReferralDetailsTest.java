package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.junit.jupiter.api.Test;

class ReferralDetailsTest {

    @Test
    void changes_nothing_else_where_softener_days_are_recorded() {
        ReferralDetails said = new ReferralDetails(
                "Self",
                LocalDate.of(2026, 3, 3),
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
                null,
                true,
                List.of(),
                Map.of(),
                Map.of(RedFlag.values()[0], Answer.NO),
                Set.of(Caution.TINNITUS),
                Origin.SELF_REFERRAL,
                Answer.YES);
        ReferralDetails then = said.withSoftenerDays(4);
        assertThat(then.softenerDays()).isEqualTo(4);
        assertThat(then)
                .usingRecursiveComparison()
                .ignoringFields("softenerDays")
                .isEqualTo(said);
    }
}
