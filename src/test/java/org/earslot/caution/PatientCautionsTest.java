package org.earslot.caution;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.PatientCaution.Basis;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.PatientMerge;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.Merging;
import org.earslot.referral.Origin;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.VisitRequest;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;

/** What was once said or found of a patient is known at the next referral, until it passes or is corrected. */
class PatientCautionsTest {

    abstract static class Remembering {

        private static final LocalDate LAST_YEAR = LocalDate.of(2025, 3, 3);
        private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);

        @Autowired
        private TestClinics clinics;

        @Autowired
        private DiaryFixture diary;

        @Autowired
        private PatientCautions cautions;

        @Autowired
        private Intake intake;

        @Autowired
        private Merging merging;

        private TestClinic clinic;
        private UUID patient;

        @BeforeEach
        void opensAClinic() {
            clinic = clinics.open();
            patient = diary.patient(clinic, "Wrenbottom", "Ann").id();
        }

        @Test
        void questions_an_earlier_yes_that_is_missing_from_the_list_read_out_today() {
            found(new AskedCaution(Caution.MASTOID_CAVITY, Ear.RIGHT, null));
            CautionSummary today = summary(said(true, Set.of()));
            assertThat(today.contradicted())
                    .extracting(PatientCaution::caution)
                    .containsExactly(Caution.MASTOID_CAVITY);
            assertThat(today.contradicted())
                    .extracting(PatientCaution::recordedOn)
                    .containsExactly(LAST_YEAR);
            assertThat(today.nothingKnown()).isFalse();
        }

        @Test
        void asks_to_confirm_what_nobody_asked_about_or_could_say_today() {
            found(new AskedCaution(Caution.ONLY_HEARING_EAR, Ear.LEFT, null));
            assertThat(summary(CautionAnswers.NOT_ASKED).toConfirm()).hasSize(1);
            assertThat(summary(said(false, Set.of())).toConfirm()).hasSize(1);
            CautionSummary unsure = summary(said(true, Set.of(Caution.ONLY_HEARING_EAR)));
            assertThat(unsure.toConfirm()).hasSize(1);
            assertThat(unsure.contradicted()).isEmpty();
            assertThat(unsure.notKnown()).containsExactly(Caution.ONLY_HEARING_EAR);
        }

        @Test
        void is_content_where_the_same_is_said_again_for_that_ear_or_for_the_whole_patient() {
            found(new AskedCaution(Caution.PERFORATION, Ear.RIGHT, null));
            for (Ear ear : new Ear[] {Ear.RIGHT, null}) {
                CautionSummary today = summary(said(true, Set.of(), new AskedCaution(Caution.PERFORATION, ear, null)));
                assertThat(today.contradicted()).isEmpty();
                assertThat(today.toConfirm()).isEmpty();
            }
            CautionSummary other = summary(said(true, Set.of(), new AskedCaution(Caution.PERFORATION, Ear.LEFT, null)));
            assertThat(other.contradicted()).hasSize(1);
        }

        @ParameterizedTest
        @CsvSource({
            "MIDDLE_EAR_INFECTION, 2026-01-20, true",
            "MIDDLE_EAR_INFECTION, 2026-01-19, false",
            "MUCUS_DISCHARGE, 2025-03-03, true",
            "MUCUS_DISCHARGE, 2025-03-02, false",
            "MASTOID_CAVITY, 1971-06-01, true"
        })
        void lets_what_passes_go_and_keeps_what_lasts(Caution caution, LocalDate since, boolean known) {
            found(new AskedCaution(caution, null, since));
            assertThat(cautions.inForce(clinic.id(), patient, TODAY)).hasSize(known ? 1 : 0);
            assertThat(cautions.everRecorded(clinic.id(), patient)).hasSize(1);
        }

        @Test
        void records_once_what_is_said_twice_and_counts_the_later_episode() {
            found(new AskedCaution(Caution.MIDDLE_EAR_INFECTION, null, LocalDate.of(2026, 1, 2)));
            UUID first = cautions.everRecorded(clinic.id(), patient).get(0).id();
            PatientCaution again = cautions.record(
                    clinic.id(),
                    patient,
                    new AskedCaution(Caution.MIDDLE_EAR_INFECTION, Ear.LEFT, LocalDate.of(2026, 1, 30)),
                    Basis.ASKED,
                    LocalDate.of(2026, 2, 1),
                    "receptionist");
            assertThat(again.id()).isEqualTo(first);
            assertThat(cautions.inForce(clinic.id(), patient, TODAY))
                    .singleElement()
                    .satisfies(one -> {
                        assertThat(one.since()).isEqualTo(LocalDate.of(2026, 1, 30));
                        assertThat(one.recordedOn()).isEqualTo(LAST_YEAR);
                        assertThat(one.confirmedOn()).isEqualTo(LocalDate.of(2026, 2, 1));
                    });
        }

        @Test
        void shows_the_wider_of_two_alone() {
            found(new AskedCaution(Caution.COMPLICATION_BEFORE, null, null, Method.IRRIGATION, false));
            found(new AskedCaution(Caution.COMPLICATION_BEFORE, null, null));
            assertThat(cautions.inForce(clinic.id(), patient, TODAY))
                    .singleElement()
                    .satisfies(one -> assertThat(one.method()).isNull());
        }

        @Test
        void remembers_what_a_referral_said_and_what_it_is_changed_to() {
            Referral referral = intake.takeIn(
                    clinic.id(),
                    "K77",
                    referral(said(true, Set.of(), new AskedCaution(Caution.CLEFT_PALATE, null, null))),
                    new Taker("receptionist", null));
            intake.amend(
                    referral,
                    PatientDetails.UNKNOWN,
                    referral(said(true, Set.of(), new AskedCaution(Caution.EXOSTOSES, Ear.LEFT, null))),
                    new Taker("receptionist", null));
            assertThat(cautions.inForce(clinic.id(), referral.patientId(), TODAY))
                    .extracting(PatientCaution::caution)
                    .containsExactlyInAnyOrder(Caution.CLEFT_PALATE, Caution.EXOSTOSES);
        }

        @Test
        void is_corrected_by_a_practitioner_of_the_clinic_with_the_reason_kept() {
            found(new AskedCaution(Caution.CHOLESTEATOMA, Ear.RIGHT, null));
            UUID wrong = cautions.everRecorded(clinic.id(), patient).get(0).id();
            UUID stranger = clinics.open().p1();
            assertThat(cautions.correct(clinic.id(), patient, wrong, stranger, "seen", "x"))
                    .contains(CautionRefusal.NO_PRACTITIONER);
            UUID other = diary.patient(clinic, "Wren", "Bob").id();
            assertThat(cautions.correct(clinic.id(), other, wrong, clinic.p1(), "seen", "x"))
                    .contains(CautionRefusal.NO_SUCH_CAUTION);
            assertThat(cautions.correct(clinic.id(), patient, wrong, clinic.p1(), "drum seen, whole", "p1"))
                    .isEmpty();
            assertThat(cautions.inForce(clinic.id(), patient, TODAY)).isEmpty();
            assertThat(cautions.everRecorded(clinic.id(), patient))
                    .singleElement()
                    .satisfies(one -> {
                        assertThat(one.correction()).contains("drum seen, whole");
                        assertThat(one.correctedBy()).contains("p1");
                    });
            assertThat(cautions.correct(clinic.id(), patient, wrong, clinic.p1(), "again", "p1"))
                    .contains(CautionRefusal.NO_SUCH_CAUTION);
        }

        @Test
        void follows_the_records_of_one_person_made_one_and_parted() {
            UUID second = diary.patient(clinic, "Wrenbotom", "Ann").id();
            UUID third = diary.patient(clinic, "Wrenbotton", "Ann").id();
            cautions.record(
                    clinic.id(),
                    third,
                    new AskedCaution(Caution.GROMMET, Ear.LEFT, null),
                    Basis.ASKED,
                    LAST_YEAR,
                    "receptionist");
            merging.merge(clinic.id(), second, third, "receptionist").orElseThrow();
            PatientMerge merge =
                    merging.merge(clinic.id(), patient, second, "receptionist").orElseThrow();
            assertThat(cautions.inForce(clinic.id(), patient, TODAY)).hasSize(1);
            merging.undo(clinic.id(), merge.id(), "receptionist");
            assertThat(cautions.inForce(clinic.id(), patient, TODAY)).isEmpty();
            assertThat(cautions.inForce(clinic.id(), second, TODAY)).hasSize(1);
        }

        private void found(AskedCaution asked) {
            cautions.record(clinic.id(), patient, asked, Basis.FOUND, LAST_YEAR, "p1");
        }

        private CautionSummary summary(CautionAnswers said) {
            return cautions.summary(clinic.id(), patient, said, TODAY);
        }

        private static ReferralDetails referral(CautionAnswers said) {
            return ReferralDetails.unasked(
                            new ReferralSource(null, TODAY, Origin.REFERRAL),
                            VisitRequest.routine(Ears.BOTH, Method.IRRIGATION))
                    .with(said);
        }

        private static CautionAnswers said(boolean asked, Set<Caution> notKnown, AskedCaution... yes) {
            return new CautionAnswers(asked, List.of(yes), notKnown, List.of());
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Remembering {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Remembering {}
}
