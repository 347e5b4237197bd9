package org.earslot.invented;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.minutes.EmpiricalMinutes;

/**
 * Knows the clinic's truth, but of each visit only what an estimator is told: the referral, who refers, the practitioner,
 * the planned method, and all that the log keeps of this patient's earlier visits. No estimator can do better in the
 * mean; what it scores is the floor.
 *
 * <p>By Monte Carlo: people are drawn from the clinic's own law and weighted by the likelihood of all that was told of
 * this one (reports, notes, methods used, minutes whole or stopped early); ears, changes of method, fragments, place in the
 * session and noise are drawn given that person. Levels are drawn from their exact distribution given report and note,
 * with its normaliser in the weight. The noise is laid out in even steps, not drawn. The forecast is of the time to
 * completion when called in on time.
 */
public final class PerfectForecaster {

    private static final int BATCH = 1000;
    private static final int MOST_BATCHES = 4;
    private static final double ENOUGH = 400;
    private static final int KEPT = 800;
    private static final int NOISE_STEPS = 8;

    private final ClinicTruth truth;
    private final long seed;
    private final Map<Integer, List<InventedVisit>> past;

    private PerfectForecaster(InventedClinic clinic, Map<Integer, List<InventedVisit>> past) {
        this.truth = clinic.truth();
        this.seed = clinic.seed();
        this.past = past;
    }

    /** @param log the visits an estimator is fitted on; those of other people tell nothing new */
    public static PerfectForecaster of(InventedClinic clinic, List<InventedVisit> log) {
        Map<Integer, List<InventedVisit>> past = new HashMap<>();
        for (InventedVisit visit : log) {
            if (visit.timed()) {
                past.computeIfAbsent(visit.told().patient(), patient -> new ArrayList<>())
                        .add(visit);
            }
        }
        return new PerfectForecaster(clinic, past);
    }

    /** The true distribution given what is told. */
    public TrueTimes forecast(InventedVisit.Told told) {
        return new TrueTimes(half(told, 1), half(told, 2));
    }

    private EmpiricalMinutes half(InventedVisit.Told told, int which) {
        Luck luck = new Luck((seed * 1_000_003 + told.number()) * 2 + which);
        List<InventedVisit> history = past.getOrDefault(told.patient(), List.of());
        double[] minutes = new double[0];
        double[] weights = new double[0];
        for (int batch = 0; batch < MOST_BATCHES && effective(weights) < ENOUGH; batch++) {
            int from = minutes.length;
            minutes = Arrays.copyOf(minutes, from + BATCH);
            weights = Arrays.copyOf(weights, from + BATCH);
            for (int i = from; i < minutes.length; i++) {
                draw(luck, told, history, minutes, weights, i);
            }
        }
        return spread(luck, told.method(), minutes, weights);
    }

    private void draw(
            Luck luck,
            InventedVisit.Told told,
            List<InventedVisit> history,
            double[] minutes,
            double[] weights,
            int i) {
        Patient.Hidden person = Patient.Hidden.draw(truth, luck);
        double weight = 1;
        for (InventedVisit visit : history) {
            weight *= likelihood(luck, visit, person);
        }
        Guess guess = guess(luck, told, Map.of(), person);
        Work work = Work.of(luck, truth, told, person, guess.states, Map.of());
        minutes[i] = work.minutes()
                * Math.exp(truth.pace[told.practitioner()] + person.pace())
                * truth.tiredness(luck.unit());
        weights[i] = weight * guess.weight;
    }

    /** Of all that was kept of a past visit, under this person; one draw of what is not known stands for its mean. */
    private double likelihood(Luck luck, InventedVisit visit, Patient.Hidden person) {
        InventedVisit.Told told = visit.told();
        Guess guess = guess(luck, told, visit.kept().found(), person);
        Map<Ear, Boolean> changed = new EnumMap<>(Ear.class);
        visit.kept().used().forEach((ear, methods) -> changed.put(ear, methods.size() > 1));
        Work work = Work.of(luck, truth, told, person, guess.states, changed);
        double spread = truth.noise[told.method().ordinal()];
        double seen = visit.minutes();
        double typical = work.minutes()
                * Math.exp(truth.pace[told.practitioner()] + person.pace())
                * truth.hurry(visit.lateness())
                * truth.tiredness(luck.unit());
        double z = Math.log(seen / typical) / spread;
        double unstopped = Math.exp(-work.hazard() * seen);
        double time = switch (visit.kept().stopped()) {
            case NO -> truth.noiseDensity(z) / (spread * seen) * unstopped;
            case COMFORT, SAFETY -> truth.noiseAbove(z) * work.hazard() * unstopped;
            case TIME -> truth.noiseAbove(z) * unstopped;
        };
        return guess.weight * work.weight() * time;
    }

    /** States of the ears drawn given report and note, with the likelihood of these under the person. */
    private record Guess(Map<Ear, EarState> states, double weight) {}

    private Guess guess(Luck luck, InventedVisit.Told told, Map<Ear, EarFindings> found, Patient.Hidden person) {
        double softened = person.complies() ? truth.softened(told.softenerDays()) : 0;
        double[] wax = truth.waxShares(person.tendency(), told.hearingAid(), softened);
        double[] depth = truth.depthShares[told.hearingAid() ? 1 : 0];
        Map<Ear, EarState> states = new EnumMap<>(Ear.class);
        double weight = 1;
        for (Ear ear : told.ears().each()) {
            int[] reported = EarState.ordinals(told.reported().getOrDefault(ear, EarFindings.UNKNOWN));
            EarFindings note = found.getOrDefault(ear, EarFindings.UNKNOWN);
            int[] noted = note.isUnknown() ? null : EarState.ordinals(note);
            int[] levels = new int[EarState.FIELDS];
            for (int field = 0; field < EarState.FIELDS; field++) {
                double[] shares = switch (field) {
                    case EarState.WAX -> wax.clone();
                    case EarState.CANAL -> only(person.canal(ear));
                    case EarState.DEPTH -> depth.clone();
                    default -> truth.occlusionShares.clone();
                };
                double before = 0;
                double after = 0;
                for (int level = 0; level < shares.length; level++) {
                    before += shares[level];
                    shares[level] *=
                            truth.reports[told.referrer()][field].likelihood(reported[field], level, shares.length);
                    if (noted != null) {
                        shares[level] *= truth.notes[field].likelihood(noted[field], level, shares.length);
                    }
                    after += shares[level];
                }
                levels[field] = luck.pick(shares);
                weight *= after / before;
            }
            states.put(ear, new EarState(levels[0], levels[1], levels[2], levels[3]));
        }
        return new Guess(states, weight);
    }

    private static double[] only(int level) {
        double[] shares = new double[EarState.LEVELS[EarState.CANAL]];
        shares[level] = 1;
        return shares;
    }

    /** Evenly weighted draws by systematic resampling, each with its noise in even steps. */
    private EmpiricalMinutes spread(Luck luck, Method method, double[] minutes, double[] weights) {
        double total = Arrays.stream(weights).sum();
        double[] times = new double[KEPT * NOISE_STEPS];
        double noise = truth.noise[method.ordinal()];
        double step = total / KEPT;
        double target = luck.unit() * step;
        double reached = 0;
        int kept = 0;
        for (int i = 0; i < minutes.length && kept < KEPT; i++) {
            reached += weights[i];
            while (kept < KEPT && (target < reached || i == minutes.length - 1)) {
                double shift = luck.unit();
                for (int noiseStep = 0; noiseStep < NOISE_STEPS; noiseStep++) {
                    times[kept * NOISE_STEPS + noiseStep] = Math.min(
                            ClinicTruth.LONGEST,
                            minutes[i] * Math.exp(noise * truth.noiseAt((noiseStep + shift) / NOISE_STEPS)));
                }
                kept++;
                target += step;
            }
        }
        return EmpiricalMinutes.of(times);
    }

    private static double effective(double[] weights) {
        double sum = 0;
        double squares = 0;
        for (double weight : weights) {
            sum += weight;
            squares += weight * weight;
        }
        return squares == 0 ? 0 : sum * sum / squares;
    }
}
