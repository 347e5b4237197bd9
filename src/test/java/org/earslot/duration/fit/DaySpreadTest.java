package org.earslot.duration.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.earslot.duration.findings.ReportTables;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Good days and bad ones of a practitioner, on invented tables with a known spread of days. */
class DaySpreadTest {

    private static final int DAYS = 150;
    private static final double NOISE = 0.3;

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13})
    void findsWhatTheVisitsOfADayShare(long seed) {
        assertThat(found(0.15, 8, seed)).isBetween(0.12, 0.18);
        assertThat(found(0, 8, seed)).isLessThan(0.05);
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12})
    void staysWithWhatIsAssumedWhereNoDayHasTwoVisits(long seed) {
        assertThat(found(0.15, 1, seed)).isCloseTo(0.05, within(1e-12));
    }

    /** The standard deviation found, of a table whose days truly have this one. */
    private static double found(double days, int visitsADay, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<VisitRow> rows = new ArrayList<>();
        for (int day = 0; day < DAYS; day++) {
            for (String who : List.of("P1", "P2")) {
                double good = days * random.nextGaussian();
                for (int i = 0; i < visitsADay; i++) {
                    rows.add(asked(who, day)
                            .took(20 * Math.exp(good + NOISE * random.nextGaussian()), Ending.COMPLETED));
                }
            }
        }
        PastVisits visits = PastVisits.of(rows, Vocabulary.of(Priors.weak()));
        Fit fit = new Fit(new Design(visits, Priors.weak()), Fit.Criterion.EVIDENCE)
                .on(visits.count, visits.weight, ReportTables.assumed(visits.vocabulary, Priors.weak()))
                .run(24, 1e-6);
        return Math.sqrt(DaySpread.variance(fit));
    }

    private static VisitTerms asked(String who, int day) {
        return new VisitTerms(List.of(), List.of(Part.planned("one", "kind")), who, null, null, day, 0);
    }
}
