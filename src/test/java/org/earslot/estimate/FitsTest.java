package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.earslot.duration.Prediction;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.invented.InventedVisit;
import org.earslot.page.Messages;
import org.earslot.testing.OtherServer;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.context.TestPropertySource;
import org.springframework.transaction.PlatformTransactionManager;

/** Fits, stored and used, on both databases; the night's are of all clinics, so these tests share no application. */
class FitsTest {

    /** What clinics with the same log were told, on both databases. */
    private static final Set<List<Object>> SAME_LOG = ConcurrentHashMap.newKeySet();

    @AfterAll
    static void the_same_log_gives_the_same_numbers_on_both_databases() {
        assertThat(SAME_LOG).hasSize(1);
    }

    abstract static class Kept {

        @Autowired
        private Messages messages;

        @Autowired
        private Fits fits;

        @Autowired
        private LeadKnowledge knowledge;

        @Autowired
        private FitRuns runs;

        @Autowired
        private NightlyFits nightly;

        @Autowired
        private Estimates estimates;

        @Autowired
        private ActiveModelProvider inForce;

        @Autowired
        private Snapshots snapshots;

        @Autowired
        private SnapshotStore snapshotStore;

        @Autowired
        private InventedLog log;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private SettableClock clock;

        @Autowired
        private ApplicationEventPublisher events;

        @Autowired
        private JdbcTemplate jdbc;

        @Autowired
        private PlatformTransactionManager transactions;

        private TestClinic clinic;

        @BeforeEach
        void a_clinic() {
            clinic = clinics.open();
        }

        @Test
        void of_the_same_log_are_the_same_in_another_clinic_on_another_day() {
            List<InventedVisit> visits = log.keep(clinic, 5, 300);
            SAME_LOG.add(told(clinic, visits));
            clock.advance(Duration.ofDays(3));
            TestClinic other = clinics.open();
            log.keep(other, 5, 300);
            SAME_LOG.add(told(other, visits));
            assertThat(SAME_LOG).hasSize(1);
        }

        /** All that a fit of the clinic says, but for ids of practitioners and days. */
        private List<Object> told(TestClinic clinic, List<InventedVisit> visits) {
            Snapshot fit = fits.fit(clinic.id());
            List<Object> told = new ArrayList<>(List.of(fit.contentHash(), fit.scores()));
            ModelReport report = fit.learnt();
            told.addAll(List.of(report.kinds(), report.effects(), report.tables(), report.referrers(), report.stops()));
            report.paces()
                    .forEach(pace -> told.addAll(List.of(pace.visits(), pace.minutes(), pace.low(), pace.high())));
            for (InventedVisit visit : visits) {
                Estimate estimate = estimates.estimate(clinic.id(), InventedLog.plan(clinic, visit));
                told.add(estimate.slotMinutes());
                for (double probability : BookedEstimate.KEPT) {
                    told.add(estimate.inRoom().quantile(probability));
                }
                estimate.why().forEach(line -> told.addAll(List.of(line.minutes(), line.low(), line.high())));
            }
            return told;
        }

        @Test
        void of_the_same_log_and_the_same_answers_of_the_lead_are_the_same_and_undone_with_them() {
            LeadAnswers answers = LeadAnswers.read("irrigation-both=30;microsuction-one=12/20");
            List<InventedVisit> visits = log.keep(clinic, 6, 60);
            String alone = fits.fit(clinic.id()).contentHash();
            knowledge.say(clinic.id(), answers, "lead");
            List<Object> told = told(clinic, visits);
            clock.advance(Duration.ofDays(3));
            TestClinic other = clinics.open();
            log.keep(other, 6, 60);
            knowledge.say(other.id(), answers, "somebody else");

            assertThat(told(other, visits)).isEqualTo(told);
            assertThat(told.get(0)).isNotEqualTo(alone);
            assertThat(knowledge.undo(clinic.id(), "lead")).isTrue();
            assertThat(fits.fit(clinic.id()).contentHash()).isEqualTo(alone);
        }

        @Test
        void of_answers_alone_rest_on_them_and_are_read_back_as_they_were() {
            assertThat(knowledge.undo(clinic.id(), "lead")).isFalse();
            knowledge.say(clinic.id(), LeadAnswers.read("microsuction-one=6/9"), "lead");
            Snapshot fit = fits.fit(clinic.id());

            assertThat(fit.visits()).isZero();
            VisitPlan plan = VisitPlan.of(Method.MICROSUCTION, Ears.RIGHT);
            Estimate told = estimates.estimate(clinic.id(), plan);
            assertThat(told.median()).isBetween(5.0, 8.0);
            inForce.hold(
                    clinic.id(),
                    ActiveModel.of(fit.version(), snapshotStore.model(fit).orElseThrow(), fit.choices()));
            Estimate again = estimates.estimate(clinic.id(), plan);
            assertThat(again.median()).isEqualTo(told.median());
            assertThat(again.restsOn()).isEqualTo(told.restsOn());
        }

        @Test
        void whoever_has_past_visits_here_is_never_perhaps_on_a_first_one() {
            List<InventedVisit> visits = log.keep(clinic, 5, 2500);
            fits.fit(clinic.id());
            List<Estimate> ofKnown = visits.stream()
                    .map(visit -> InventedLog.plan(clinic, visit))
                    .filter(plan -> plan.patientRef() != null)
                    .map(plan -> new VisitPlan(
                            plan.patientRef(),
                            plan.practitionerId(),
                            plan.method(),
                            plan.ears(),
                            Answer.NOT_KNOWN,
                            plan.hearingAid(),
                            plan.cautions(),
                            plan.softenerDays(),
                            plan.reported(),
                            plan.referrer()))
                    .map(plan -> estimates.estimate(clinic.id(), plan))
                    .filter(estimate -> estimate.why().stream()
                            .anyMatch(line -> line.kind() == ItemKind.PERSON && line.minutes() != 0))
                    .toList();
            assertThat(ofKnown).isNotEmpty();
            assertThat(ofKnown)
                    .allSatisfy(estimate -> assertThat(estimate.why())
                            .filteredOn(line -> line.subject().equals("first_visit"))
                            .noneMatch(line -> line.level().isEmpty()));
        }

        @Test
        void say_what_they_rest_on_before_any_fit() {
            InventedVisit visit = log.keep(clinic, 3, 40).get(0);
            Estimate estimate = estimates.estimate(clinic.id(), InventedLog.plan(clinic, visit));
            assertThat(estimate.version()).isEqualTo(Estimate.ASSUMED);
            assertThat(estimate.restsOn().visits()).isZero();
            assertThat(estimate.slotMinutes() % 5).isZero();
            assertThat(fits.inForce(clinic.id())).isEmpty();
        }

        @Test
        void come_from_the_stored_visits_and_are_kept_with_scores_and_hash() {
            List<InventedVisit> visits = log.keep(clinic, 3, 200);
            Snapshot fit = fits.fit(clinic.id());
            assertThat(fit.visits()).isEqualTo(visits.size()).isGreaterThan(150);
            assertThat(fit.version()).startsWith("2026-03-03.").hasSize(19);
            assertThat(fit.contentHash()).hasSize(64);
            FitScores.Card card = fit.scores().estimator().orElseThrow().overall();
            assertThat(card.visits()).isBetween(60, 160);
            assertThat(card.crps()).isPositive();
            assertThat(card.coverage()).containsOnlyKeys(0.5, 0.8, 0.9, 0.95);
            assertThat(fits.inForce(clinic.id()).orElseThrow().version()).isEqualTo(fit.version());
            Estimate estimate = estimates.estimate(clinic.id(), InventedLog.plan(clinic, visits.get(0)));
            assertThat(estimate.version()).isEqualTo(fit.version());
            assertThat(estimate.restsOn().visits()).isEqualTo(visits.size());
            assertThat(fits.underWay(clinic.id())).isEmpty();
        }

        @Test
        void are_the_same_model_when_another_server_loads_it() {
            List<InventedVisit> visits = log.keep(clinic, 4, 150);
            fits.fit(clinic.id());
            ActiveModel again = elsewhere().of(clinic.id());
            assertThat(again).isNotSameAs(inForce.of(clinic.id()));
            for (InventedVisit visit : visits.subList(0, 25)) {
                VisitPlan plan = InventedLog.plan(clinic, visit);
                Estimate here = estimates.estimate(clinic.id(), plan);
                Prediction there = again.model()
                        .predict(again.terms().plan(plan, plan.practitionerId().toString(), hand(plan), today()));
                for (double probability : BookedEstimate.KEPT) {
                    assertThat(there.completion().quantile(probability))
                            .isEqualTo(here.completion().quantile(probability));
                    assertThat(there.inRoom().quantile(probability))
                            .isEqualTo(here.inRoom().quantile(probability));
                }
                assertThat(there.why().stream().map(Prediction.Item::minutes))
                        .isEqualTo(here.why().stream().map(WhyLine::minutes).toList());
            }
        }

        private ActiveModelProvider elsewhere() {
            return new ActiveModelProvider(snapshots, snapshotStore, events);
        }

        @Test
        void are_refused_where_what_is_kept_is_damaged_and_made_whole_by_the_next_fit() {
            log.keep(clinic, 3, 60);
            Snapshot fit = fits.fit(clinic.id());
            byte[] bytes = snapshotStore.bytes(fit);
            for (int at : new int[] {4, bytes.length / 3, bytes.length / 2, bytes.length - 3}) {
                byte[] damaged = bytes.clone();
                damaged[at] ^= 0x11;
                assertRefused(fit, damaged);
            }
            assertRefused(fit, Arrays.copyOf(bytes, bytes.length / 2));
            assertRefused(fit, new byte[0]);
            assertThat(fits.fit(clinic.id()).version()).isEqualTo(fit.version());
            assertThat(snapshotStore.bytes(fit)).isEqualTo(bytes);
            assertThat(elsewhere().of(clinic.id()).version()).isEqualTo(fit.version());
        }

        @Test
        void are_refused_where_another_whole_model_was_put_in_their_place() {
            log.keep(clinic, 3, 60);
            Snapshot fit = fits.fit(clinic.id());
            TestClinic other = clinics.open();
            log.keep(other, 4, 60);
            assertRefused(fit, snapshotStore.bytes(fits.fit(other.id())));
        }

        @Test
        void of_another_release_serve_until_a_new_one_has_followed_by_itself() {
            log.keep(clinic, 3, 60);
            Snapshot old = madeByAnotherRelease(fits.fit(clinic.id()), true);
            assertThat(elsewhere().of(clinic.id()).version()).isEqualTo(old.version());
            assertFittedAgain(old);
        }

        @Test
        void of_another_form_are_fitted_again_by_themselves() {
            log.keep(clinic, 3, 60);
            Snapshot old = madeByAnotherRelease(fits.fit(clinic.id()), false);
            assertThat(elsewhere().of(clinic.id()).version()).isEqualTo(Estimate.ASSUMED);
            assertThat(fits.putInForce(clinic.id(), old.version())).isEmpty();
            assertFittedAgain(old);
        }

        private void assertFittedAgain(Snapshot old) {
            org.awaitility.Awaitility.await()
                    .atMost(Duration.ofSeconds(60))
                    .until(() -> fits.inForce(clinic.id())
                            .filter(Snapshot::computedAsNow)
                            .isPresent());
            Snapshot now = fits.inForce(clinic.id()).orElseThrow();
            assertThat(now.version()).isNotEqualTo(old.version());
            assertThat(now.visits()).isEqualTo(old.visits());
            assertThat(inForce.of(clinic.id()).version()).isEqualTo(now.version());
        }

        /** The fit as a release with other numbers would have stored it. */
        private Snapshot madeByAnotherRelease(Snapshot fit, boolean readable) {
            byte[] bytes = snapshotStore.bytes(fit);
            byte[] model = Arrays.copyOf(bytes, bytes.length - 32);
            if (!readable) {
                model[0]++;
            }
            FitChoices choices =
                    new FitChoices(FitChoices.CURRENT, false, fit.choices().slotProbability(), "000000000000", null);
            jdbc.update(
                    "update estimator_snapshot set version = '2026-03-02.00000000', settings = ?, content_hash = ? where id = ?",
                    choices.text(),
                    "0".repeat(64),
                    fit.id());
            Snapshot old = snapshots.findById(fit.id()).orElseThrow();
            ByteArrayOutputStream sealed = new ByteArrayOutputStream();
            sealed.writeBytes(model);
            sealed.writeBytes(old.seal(model));
            jdbc.update(
                    "update estimator_snapshot_part set content = ? where snapshot_id = ?",
                    sealed.toByteArray(),
                    fit.id());
            return old;
        }

        @Test
        void are_refused_where_their_settings_were_changed() {
            log.keep(clinic, 3, 60);
            Snapshot fit = fits.fit(clinic.id());
            jdbc.update(
                    "update estimator_snapshot set settings = replace(settings, '\"occlusion\":', '\"occlusion\": ') where id = ?",
                    fit.id());
            ActiveModelProvider elsewhere = elsewhere();
            assertThatThrownBy(() -> elsewhere.of(clinic.id())).isInstanceOf(DamagedFit.class);
        }

        private void assertRefused(Snapshot fit, byte[] kept) {
            jdbc.update("update estimator_snapshot_part set content = ? where snapshot_id = ?", kept, fit.id());
            ActiveModelProvider elsewhere = elsewhere();
            assertThatThrownBy(() -> elsewhere.of(clinic.id()))
                    .isInstanceOfSatisfying(
                            DamagedFit.class,
                            damaged -> assertThat(damaged.detail(messages))
                                    .contains(fit.version(), "does not match its hash", "fit now"));
            assertThatThrownBy(() -> fits.putInForce(clinic.id(), fit.version()))
                    .isInstanceOf(DamagedFit.class);
        }

        @Test
        void say_where_another_release_made_them() {
            log.keep(clinic, 3, 60);
            assertThat(fits.fit(clinic.id()).computedAsNow()).isTrue();
            assertThat(new FitChoices(FitChoices.CURRENT, false, 0.75, "000000000000", null).computedAsNow())
                    .isFalse();
            // As kept before the mark was.
            FitChoices earlier =
                    FitChoices.read("{\"estimator\":\"once-plus-parts\",\"occlusion\":false,\"slotProbability\":0.75}");
            assertThat(earlier.computedAsNow()).isFalse();
        }

        private org.earslot.ear.Ear hand(VisitPlan plan) {
            return plan.practitionerId().equals(clinic.p1()) ? org.earslot.ear.Ear.RIGHT : org.earslot.ear.Ear.LEFT;
        }

        private static long today() {
            return LocalDate.of(2026, 3, 3).toEpochDay();
        }

        @Test
        void are_not_kept_twice_for_the_same_visits() {
            log.keep(clinic, 3, 60);
            Snapshot first = fits.fit(clinic.id());
            assertThat(fits.fit(clinic.id()).version()).isEqualTo(first.version());
            assertThat(fits.all(clinic.id())).hasSize(1);
        }

        @Test
        void can_be_gone_back_to_on_every_server() {
            log.keep(clinic, 3, 60);
            Snapshot first = fits.fit(clinic.id());
            jdbc.update(
                    "delete from visit where clinic_id = ? and visit_ref in (select min(visit_ref) from visit where clinic_id = ?)",
                    clinic.id().value(),
                    clinic.id().value());
            clock.advance(Duration.ofMinutes(1));
            Snapshot second = fits.fit(clinic.id());
            assertThat(second.visits()).isEqualTo(first.visits() - 1);
            assertThat(second.version()).isNotEqualTo(first.version());
            assertThat(inForce.of(clinic.id()).version()).isEqualTo(second.version());

            assertThat(fits.putInForce(clinic.id(), first.version())).isPresent();
            assertThat(inForce.of(clinic.id()).version()).isEqualTo(first.version());
            assertThat(fits.all(clinic.id()).stream().filter(Snapshot::inForce))
                    .extracting(Snapshot::version)
                    .containsExactly(first.version());
            assertThat(fits.putInForce(clinic.id(), "no such version")).isEmpty();
            assertThat(fits.putInForce(clinics.open().id(), first.version())).isEmpty();
        }

        @Test
        void leave_out_visits_not_attended_untimed_or_timed_afterwards() {
            int all = log.keep(clinic, 3, 60).size();
            jdbc.update(
                    "update visit set attendance = 'did_not_attend' where clinic_id = ? and visit_ref in (select min(visit_ref) from visit where clinic_id = ?)",
                    clinic.id().value(),
                    clinic.id().value());
            jdbc.update(
                    "update visit set times_entered_later = true where clinic_id = ? and visit_ref in (select max(visit_ref) from visit where clinic_id = ?)",
                    clinic.id().value(),
                    clinic.id().value());
            assertThat(fits.fit(clinic.id()).visits()).isEqualTo(all - 2);
        }

        @Test
        void give_an_answer_with_no_visits_at_all() {
            Snapshot fit = fits.fit(clinic.id());
            assertThat(fit.visits()).isZero();
            assertThat(fit.scores().estimator()).isEmpty();
        }

        @Test
        void run_one_at_a_time_and_say_how_far_they_are() {
            SimpleLock one = runs.begin(clinic.id()).orElseThrow();
            assertThat(runs.begin(clinic.id())).isEmpty();
            runs.report(clinic.id(), new FitProgress(FitProgress.Stage.READING, 20, 100));
            assertThat(runs.underWay(clinic.id())).contains(new FitProgress(FitProgress.Stage.READING, 20, 100));
            runs.end(clinic.id(), one, Optional.empty());
            assertThat(runs.underWay(clinic.id())).isEmpty();
            SimpleLock other = runs.begin(clinic.id()).orElseThrow();
            runs.end(clinic.id(), other, Optional.of("a1b2c3d4"));
            assertThat(runs.lastFailure(clinic.id())).contains("a1b2c3d4");
        }

        @Test
        void are_over_where_the_lock_of_a_server_that_died_has_expired() {
            assertThat(runs.begin(clinic.id())).isPresent();
            jdbc.update("update shedlock set lock_until = locked_at where name = ?", FitRuns.lockName(clinic.id()));
            assertThat(runs.underWay(clinic.id())).isEmpty();
            assertThat(runs.begin(clinic.id())).isPresent();
            assertThat(runs.underWay(clinic.id())).contains(new FitProgress(FitProgress.Stage.READING, 0, 0));
        }

        @Test
        void wait_for_another_server() {
            log.keep(clinic, 3, 60);
            OtherServer server = new OtherServer(jdbc, transactions);
            String name = FitRuns.lockName(clinic.id());
            assertThat(server.lock(name, Duration.ofMillis(700))).isPresent();
            assertThat(runs.begin(clinic.id())).isEmpty();
            assertThat(fits.fit(clinic.id()).visits()).isPositive();
            assertThat(fits.underWay(clinic.id())).isEmpty();
        }

        @Test
        void of_the_night_are_left_to_the_server_that_starts_them() {
            log.keep(clinic, 3, 60);
            SimpleLock other = new OtherServer(jdbc, transactions)
                    .lock("nightly-fits", Duration.ofMinutes(1))
                    .orElseThrow();
            nightly.startDue();
            other.unlock();
            assertThat(runs.claimNight(
                            clinic.id(),
                            clock.instant().atOffset(ZoneOffset.UTC).toLocalDate()))
                    .isTrue();
        }

        @Test
        void are_claimed_once_a_night() {
            LocalDate night = clock.instant().atOffset(ZoneOffset.UTC).toLocalDate();
            assertThat(runs.claimNight(clinic.id(), night)).isTrue();
            assertThat(runs.claimNight(clinic.id(), night)).isFalse();
            assertThat(runs.claimNight(clinic.id(), night.plusDays(1))).isTrue();
        }

        @Test
        void run_at_night_where_there_are_visits() {
            log.keep(clinic, 3, 60);
            nightly.startDue();
            org.awaitility.Awaitility.await()
                    .atMost(Duration.ofSeconds(60))
                    .until(() -> fits.inForce(clinic.id()).isPresent());
            assertThat(runs.claimNight(
                            clinic.id(),
                            clock.instant().atOffset(ZoneOffset.UTC).toLocalDate()))
                    .isFalse();
        }
    }

    @Nested
    @PageTest
    @TestPropertySource(properties = "earslot.fits.every=PT24H")
    class OnH2Database extends Kept {}

    @Nested
    @PageTestOnPostgres
    @TestPropertySource(properties = "earslot.fits.every=PT24H")
    class OnPostgresDatabase extends Kept {}
}
