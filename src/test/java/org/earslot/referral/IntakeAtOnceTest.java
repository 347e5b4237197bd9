package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.Edits;
import org.earslot.patient.LikenessTest;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake.Taker;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** Referrals that come at the same moment all go in, each once. */
class IntakeAtOnceTest {

    private static final int MANY = 40;

    abstract static class AtOnce {

        @Autowired
        private TestClinics clinics;

        @Autowired
        private Intake intake;

        @Autowired
        private Edits edits;

        @Autowired
        private Patients patients;

        @Autowired
        private Referrals referrals;

        private ClinicId clinic;

        @BeforeEach
        void a_clinic() {
            clinic = clinics.open().id();
        }

        @Test
        void forty_without_a_number_get_forty_numbers() throws Exception {
            List<TakenIn> taken = together(
                    MANY,
                    i -> intake.takeIn(
                            clinic,
                            new NewReferral(null, person("Person" + i), said(), false, false, null),
                            new Taker("receptionist", null)));
            assertThat(taken).hasSize(MANY).allMatch(TakenIn.Done.class::isInstance);
            assertThat(patients.countByClinicId(clinic)).isEqualTo(MANY);
            assertThat(patients.findByClinicIdAndLocalNumber(clinic, "N00040")).isPresent();
        }

        @Test
        void one_form_pressed_many_times_is_one_referral() throws Exception {
            UUID key = UUID.randomUUID();
            List<TakenIn> taken = together(
                    8,
                    i -> intake.takeIn(
                            clinic,
                            new NewReferral(null, person("Impatient"), said(), false, false, key),
                            new Taker("receptionist", null)));
            assertThat(taken.stream()
                            .map(one -> ((TakenIn.Done) one).referral().id())
                            .distinct())
                    .hasSize(1);
            assertThat(patients.countByClinicId(clinic)).isEqualTo(1);
        }

        @Test
        void one_new_number_sent_many_times_at_once_is_one_patient() throws Exception {
            List<TakenIn> taken = together(
                    8,
                    i -> intake.takeIn(
                            clinic,
                            new NewReferral("X1", person("Samenumber"), said(), false, false, null),
                            new Taker("program", null)));
            assertThat(taken).allMatch(TakenIn.Done.class::isInstance);
            assertThat(patients.countByClinicId(clinic)).isEqualTo(1);
        }

        @Test
        void of_many_who_change_one_version_one_saves() throws Exception {
            Referral referral = intake.takeIn(clinic, "K1", said(), new Taker("receptionist", null));
            Referral stored =
                    referrals.findByClinicIdAndId(clinic, referral.id()).orElseThrow();
            String seen = Intake.version(stored, patients.known(clinic, "K1").orElseThrow())
                    .text();
            List<Boolean> saved = together(
                    6,
                    i -> edits.save(
                                    seen,
                                    () -> Intake.version(
                                            referrals
                                                    .findByClinicIdAndId(clinic, stored.id())
                                                    .orElseThrow(),
                                            patients.known(clinic, "K1").orElseThrow()),
                                    () -> {
                                        intake.amend(
                                                stored,
                                                person("Person" + i),
                                                said().with(said().request().withSoftenerDays(i + 1)),
                                                new Taker("x", null));
                                        return true;
                                    })
                            .isPresent());
            assertThat(saved).containsOnlyOnce(true);
        }

        private <T> List<T> together(int many, Work<T> work) throws Exception {
            ExecutorService threads = Executors.newFixedThreadPool(many);
            CountDownLatch all = new CountDownLatch(many);
            try {
                List<Future<T>> running = IntStream.range(0, many)
                        .mapToObj(i -> threads.submit((Callable<T>) () -> {
                            all.countDown();
                            all.await();
                            return work.on(i);
                        }))
                        .toList();
                List<T> done = new ArrayList<>();
                for (Future<T> one : running) {
                    done.add(one.get());
                }
                return done;
            } finally {
                threads.shutdownNow();
            }
        }

        private static PatientDetails person(String family) {
            return LikenessTest.person(family, "Ann", LocalDate.of(1980, 1, 1), null);
        }

        private static ReferralDetails said() {
            return DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null);
        }
    }

    /** One of the things done at the same time. */
    private interface Work<T> {
        T on(int number) throws Exception;
    }

    @Nested
    @PageTest
    class OnH2Database extends AtOnce {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends AtOnce {}
}
