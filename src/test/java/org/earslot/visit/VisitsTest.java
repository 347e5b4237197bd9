package org.earslot.visit;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.Wax;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

class VisitsTest {

    private static final Instant NINE = Instant.parse("2026-03-03T09:00:00Z");

    abstract static class Stored {
        @Autowired
        private Visits visits;

        @Autowired
        private Clinics clinics;

        @Autowired
        private Practitioners practitioners;

        @Autowired
        private JdbcClient database;

        @Test
        void come_back_as_they_were_kept() {
            ClinicId clinicId = newClinic();
            Visit visit = Visit.booked(BookedVisits.bothEarsByHand(clinicId, newPractitioner(clinicId), "V1"));
            visit.write(ClockRecords.seen(NINE, NINE.plusSeconds(1500)));
            EarRecord left = new EarRecord(
                    List.of(Method.MANUAL_REMOVAL), new EarFindings(Wax.LOOSE, null, null, null), Outcome.CLEAR, null);
            visit.recordFindings(Ear.LEFT, left);
            visits.save(visit);

            Visit kept = visits.findByClinicIdAndVisitRef(clinicId, "V1").orElseThrow();
            assertThat(kept.recorded(Ear.LEFT)).isEqualTo(left);
            assertThat(kept.recorded(Ear.RIGHT)).isEqualTo(EarRecord.EMPTY);
            assertThat(kept.reported(Ear.RIGHT)).isEqualTo(visit.reported(Ear.RIGHT));
            assertThat(kept.reported(Ear.LEFT)).isEqualTo(EarFindings.UNKNOWN);
            assertThat(kept.cautions()).isEqualTo(visit.cautions());
            assertThat(kept.times()).isEqualTo(visit.times());
            assertThat(kept.bookedStart()).contains(NINE);
        }

        @Test
        void for_the_fit_are_those_seen_with_times_recorded_as_they_happened() {
            ClinicId clinicId = newClinic();
            UUID practitioner = newPractitioner(clinicId);
            visits.save(timed(clinicId, practitioner, "timed"));
            Visit corrected = timed(clinicId, practitioner, "corrected");
            corrected.write(ClockRecords.corrected(NINE, NINE.plusSeconds(1200)));
            visits.save(corrected);
            visits.save(Visit.booked(BookedVisits.bothEarsByHand(clinicId, practitioner, "open")));

            List<String> learntFrom = database.sql(
                            "select visit_ref from visit where clinic_id = ? and " + VisitRecord.MAY_BE_LEARNT_FROM)
                    .param(clinicId.value())
                    .query((row, number) -> new VisitRecord(row).visitRef())
                    .list();
            List<String> byTheRecord = database.sql("select * from visit where clinic_id = ?")
                    .param(clinicId.value())
                    .query((row, number) ->
                            new VisitRecord(row).mayBeLearntFrom() ? new VisitRecord(row).visitRef() : "")
                    .list();
            assertThat(learntFrom).containsExactly("timed");
            assertThat(byTheRecord).containsExactlyInAnyOrder("timed", "", "");
        }

        private static Visit timed(ClinicId clinicId, UUID practitioner, String ref) {
            Visit visit = Visit.booked(BookedVisits.bothEarsByHand(clinicId, practitioner, ref));
            visit.write(ClockRecords.seen(NINE, NINE.plusSeconds(1500)));
            return visit;
        }

        private ClinicId newClinic() {
            return clinics.save(new Clinic(ClinicId.random(), "Fernside", ZoneOffset.UTC, NINE))
                    .id();
        }

        private UUID newPractitioner(ClinicId clinicId) {
            return practitioners
                    .save(new Practitioner(UUID.randomUUID(), clinicId, "P1", null, Set.of(Method.MANUAL_REMOVAL)))
                    .id();
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Stored {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Stored {}
}
