package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
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
import org.earslot.ear.Method;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.visit.BookedVisits;
import org.earslot.visit.ClockRecords;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

class StoredVisitsTest {

    private static final Instant NINE = Instant.parse("2026-03-03T09:00:00Z");

    abstract static class Latest {
        @Autowired
        private StoredVisits stored;

        @Autowired
        private Visits visits;

        @Autowired
        private Clinics clinics;

        @Autowired
        private Practitioners practitioners;

        /** Databases sort texts by their own rules, in which small letters may come before or after capitals. */
        @Test
        void of_one_moment_are_the_same_on_every_database() {
            ClinicId clinicId = clinics.save(new Clinic(ClinicId.random(), "Fernside", ZoneOffset.UTC, NINE))
                    .id();
            UUID practitioner = practitioners
                    .save(new Practitioner(UUID.randomUUID(), clinicId, "P1", null, Set.of(Method.MANUAL_REMOVAL)))
                    .id();
            List<String> refs = List.of("b_2", "B1", "a-1", "A_1");
            for (int i = 0; i < refs.size(); i++) {
                Visit visit = Visit.booked(BookedVisits.bothEarsByHand(clinicId, practitioner, refs.get(i)));
                visit.write(ClockRecords.seen(NINE, NINE.plus(Duration.ofMinutes(10 + i))));
                visits.save(visit);
            }
            Visit earlier = Visit.booked(BookedVisits.bothEarsByHand(clinicId, practitioner, "0"));
            earlier.write(ClockRecords.seen(NINE.minusSeconds(60), NINE.plus(Duration.ofMinutes(50))));
            visits.save(earlier);

            // A_1, B1, a-1, b_2, then the earlier one: by the numbers of the characters.
            assertThat(stored.latest(clinicId, 3))
                    .extracting(PastVisit::minutes)
                    .containsExactly(13.0, 11.0, 12.0);
            assertThat(stored.latest(clinicId, 9))
                    .extracting(PastVisit::minutes)
                    .containsExactly(13.0, 11.0, 12.0, 10.0, 51.0);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Latest {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Latest {}
}
