package org.earslot.estimate.web;

import io.swagger.v3.oas.annotations.Operation;
import java.time.Instant;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.clinic.CurrentClinic;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.FitScores;
import org.earslot.estimate.Fits;
import org.earslot.estimate.LeadAnswers.Minutes;
import org.earslot.estimate.LeadKnowledge;
import org.earslot.estimate.Snapshot;
import org.jspecify.annotations.Nullable;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** The fit behind the estimates, for programs. */
@RestController
@RequestMapping(path = "/api/v1/estimator", produces = MediaType.APPLICATION_JSON_VALUE)
class EstimatorApi {

    private final Fits fits;
    private final LeadKnowledge knowledge;
    private final CurrentClinic clinic;

    EstimatorApi(Fits fits, LeadKnowledge knowledge, CurrentClinic clinic) {
        this.knowledge = knowledge;
        this.fits = fits;
        this.clinic = clinic;
    }

    /** @param score null where there are too few visits to judge by */
    record FitAnswer(
            String version,
            int visits,
            int censored,
            double seconds,
            @Nullable Score score) {

        record Score(double crps, double pinball, Map<String, Double> coverage, int judgedVisits) {}

        static FitAnswer of(Snapshot fit) {
            return new FitAnswer(
                    fit.version(),
                    fit.visits(),
                    fit.stoppedEarly(),
                    fit.seconds(),
                    fit.scores().estimator().map(way -> score(way.overall())).orElse(null));
        }

        private static Score score(FitScores.Card card) {
            Map<String, Double> coverage = new TreeMap<>();
            card.coverage().forEach((probability, share) -> coverage.put(Double.toString(probability), share));
            return new Score(card.crps(), card.pinball(), coverage, card.visits());
        }
    }

    @Operation(summary = "api.summary.estimator.fit")
    @PostMapping("/fit")
    FitAnswer fit() {
        return FitAnswer.of(fits.fit(clinic.id()));
    }

    /**
     * @param minutes by method and what is asked about (one, both, hard, narrow): usual, oneInTenOver
     * @param at when they were given; null where they never were
     */
    record AnswersBody(
            Map<String, Minutes> minutes, @Nullable Instant at) {}

    @Operation(summary = "api.summary.estimator.answers")
    @GetMapping("/answers")
    AnswersBody answers() {
        Map<String, Minutes> minutes = new TreeMap<>();
        knowledge.answers(clinic.id()).minutes().forEach((kind, said) -> minutes.put(kind.code(), said));
        return new AnswersBody(
                minutes,
                knowledge.latest(clinic.id()).map(LeadKnowledge.Said::at).orElse(null));
    }

    @Operation(summary = "api.summary.estimator")
    @GetMapping
    FitAnswer inForce() {
        return fits.inForce(clinic.id())
                .map(FitAnswer::of)
                .orElseGet(() -> new FitAnswer(Estimate.ASSUMED, 0, 0, 0, null));
    }
}
