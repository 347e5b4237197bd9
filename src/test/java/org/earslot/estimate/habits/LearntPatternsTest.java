package org.earslot.estimate.habits;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Fits;
import org.earslot.testing.PageTest;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

/** ClinicPatterns are learnt from the stored log and kept beside the fit in force. */
@PageTest
class LearntPatternsTest {

    @Autowired
    private LearntPatterns habits;

    @Autowired
    private ClinicPatternStore kept;

    @Autowired
    private Fits fits;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private JdbcTemplate jdbc;

    /** Every fifth booked patient stays away; the others come six minutes early, every tenth half an hour late. */
    private TestClinic clinicWithLog(int visits) {
        TestClinic clinic = clinics.open();
        for (int i = 0; i < visits; i++) {
            boolean away = i % 5 == 0;
            String day = "2026-01-" + (10 + i % 20);
            String arrived = i % 10 == 1 ? "10:30" : "09:54";
            jdbc.update(
                    """
                    insert into visit (id, clinic_id, visit_ref, patient_ref, visit_date, practitioner_id, attendance,
                        method_planned, ears, first_visit, hearing_aid, cautions, booked_start, slot_minutes, fit_in,
                        arrived, called_in, finished, stopped_early, times_entered_later, source, version,
                        right_methods)
                    values (?, ?, ?, ?, cast(? as date), ?, ?, 'microsuction', 'right', ?, 'no', '',
                        cast(? as timestamp with time zone), 20, false, cast(? as timestamp with time zone),
                        cast(? as timestamp with time zone), cast(? as timestamp with time zone), 'no', false,
                        'import', 0, 'microsuction')
                    """,
                    UUID.randomUUID(),
                    clinic.id().value(),
                    "V" + i,
                    "K" + i,
                    day,
                    clinic.p1(),
                    away ? "did_not_attend" : "attended",
                    i % 2 == 0 ? "yes" : "no",
                    day + " 10:00:00+00",
                    away ? null : day + " " + arrived + ":00+00",
                    away ? null : day + " 10:31:00+00",
                    away ? null : day + " 10:4" + i % 10 + ":00+00");
        }
        return clinic;
    }

    @Test
    void countsWhoCameAndWhen() {
        AttendanceCounts counts = kept.counted(clinicWithLog(100).id());
        assertThat(counts.booked()).isEqualTo(100);
        assertThat(counts.absent()).isEqualTo(20);
        assertThat(counts.first()).isEqualTo(50);
        assertThat(counts.firstAbsent()).isEqualTo(10);
        assertThat(counts.arrivedAt(-6)).isEqualTo(70);
        assertThat(counts.arrivedAt(30)).isEqualTo(10);
    }

    @Test
    void withoutAFitTheAssumptionHolds() {
        ClinicPatterns assumed = habits.of(clinicWithLog(10).id());
        assertThat(assumed.version()).isEqualTo(Estimate.ASSUMED);
        assertThat(assumed.coming()).isEqualTo(AttendanceModel.ASSUMED);
        assertThat(assumed.usual()).isNotEmpty();
    }

    @Test
    void aFitBringsTheClinicsOwnHabitsAndKeepsThem() {
        ClinicId clinic = clinicWithLog(200).id();
        String version = fits.fit(clinic).version();
        ClinicPatterns learnt = habits.of(clinic);
        assertThat(learnt.version()).isEqualTo(version);
        assertThat(learnt.coming().absent()).isCloseTo((0.06 * 60 + 40) / 260, within(1e-12));
        assertThat(learnt.coming().restsOnVisits()).isEqualTo(200);
        assertThat(learnt.usual())
                .hasSize(160)
                .allSatisfy(usual -> assertThat(usual.inRoom().mean()).isBetween(5.0, 30.0));
        ClinicPatterns again = kept.read(clinic, version).orElseThrow();
        assertThat(again.coming().absent()).isEqualTo(learnt.coming().absent());
        assertThat(again.usual()).hasSameSizeAs(learnt.usual());
        assertThat(again.coming().sinceEarliest().quantile(0.5))
                .isEqualTo(learnt.coming().sinceEarliest().quantile(0.5));
    }
}
