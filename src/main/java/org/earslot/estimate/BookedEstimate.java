package org.earslot.estimate;

import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/**
 * The numbers an appointment was booked on, in a form that is kept with it.
 *
 * @param version the fit they came from
 * @param slotMinutes the slot advised
 * @param mean mean time in room, minutes
 * @param sd its standard deviation, minutes
 * @param completion quantiles of the time to completion: probability to minutes
 * @param inRoom the same of the time in room
 * @param sharedSdLog what visits of the same practitioner share, on the log scale
 */
public record BookedEstimate(
        String version,
        int slotMinutes,
        double mean,
        double sd,
        Map<Double, Double> completion,
        Map<Double, Double> inRoom,
        double sharedSdLog) {

    /** The probabilities whose quantiles are kept. */
    public static final double[] KEPT = {0.1, 0.25, 0.5, 0.75, 0.8, 0.9, 0.95};

    private static final JsonMapper JSON = JsonMapper.builder().build();

    public BookedEstimate {
        completion = Map.copyOf(completion);
        inRoom = Map.copyOf(inRoom);
    }

    /** The numbers of {@code estimate}, to a hundredth of a minute. */
    public static BookedEstimate of(Estimate estimate) {
        return new BookedEstimate(
                estimate.version(),
                estimate.slotMinutes(),
                rounded(estimate.inRoom().mean(), 100),
                rounded(estimate.inRoom().standardDeviation(), 100),
                quantiles(estimate.completion()),
                quantiles(estimate.inRoom()),
                rounded(estimate.sharedSdLog(), 10_000));
    }

    /** Reads what {@link #text} wrote; empty if {@code text} is null or no such text with usable numbers. */
    public static Optional<BookedEstimate> find(@Nullable String text) {
        if (text == null) {
            return Optional.empty();
        }
        try {
            BookedEstimate estimate = JSON.readValue(text, BookedEstimate.class);
            return estimate.isUsable() ? Optional.of(estimate) : Optional.empty();
        } catch (JacksonException | IllegalArgumentException | NullPointerException e) {
            return Optional.empty();
        }
    }

    private boolean isUsable() {
        return sharedSdLog >= 0
                && inRoom.size() >= 2
                && inRoom.keySet().stream().allMatch(probability -> probability > 0 && probability < 1)
                && inRoom.values().stream().allMatch(Double::isFinite);
    }

    /** One line of text. */
    public String text() {
        return JSON.writeValueAsString(new BookedEstimate(
                version, slotMinutes, mean, sd, new TreeMap<>(completion), new TreeMap<>(inRoom), sharedSdLog));
    }

    /** The time in room as a distribution again, through the quantiles kept. */
    public MinutesDistribution inRoomMinutes() {
        return new QuantileDistribution(inRoom, mean, sd);
    }

    /** Quantiles at {@link #KEPT}, to a hundredth of a minute. */
    public static Map<Double, Double> quantiles(MinutesDistribution minutes) {
        Map<Double, Double> quantiles = new TreeMap<>();
        for (double probability : KEPT) {
            quantiles.put(probability, rounded(minutes.quantile(probability), 100));
        }
        return quantiles;
    }

    private static double rounded(double value, double parts) {
        return Math.round(value * parts) / parts;
    }
}
