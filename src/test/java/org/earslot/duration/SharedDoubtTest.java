package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Priors;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedTable;
import org.earslot.invented.InventedVisit;
import org.junit.jupiter.api.Test;

/**
 * What the visits of a day share without our knowing it. Where one practitioner sees everybody, the practitioner's own
 * level is doubtful against the level of all, but the two together are known well after a thousand visits.
 */
class SharedDoubtTest {

    @Test
    void oneWhoSeesEverybodyIsNotInDoubtFromDayToDay() {
        List<InventedVisit> visits =
                InventedClinic.of(301, 1, 1500).timedVisits().subList(0, 1000);
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(InventedTable.rows(visits));
        double square = visits.subList(900, 1000).stream()
                .mapToDouble(visit -> model.predict(InventedTable.asked(visit)).sharedSdLog())
                .map(sd -> sd * sd)
                .average()
                .orElseThrow();
        // In this clinic's truth the days of a practitioner share nothing.
        assertThat(Math.sqrt(square)).isLessThan(0.08);
    }
}
