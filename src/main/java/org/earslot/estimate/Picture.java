package org.earslot.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.earslot.minutes.MinutesDistribution;

/**
 * The distribution of a time in room drawn as a hill over the minutes, in units of a drawing {@link #WIDTH} wide
 * and {@link #HEIGHT} high.
 *
 * @param hill the outline as a path
 * @param filled the part of the hill up to "4 in 5"
 * @param median where half are done
 * @param fourInFive where four in five are done
 * @param slot where the slot ends
 * @param ticks minutes written under the line
 */
public record Picture(String hill, String filled, double median, double fourInFive, double slot, List<Tick> ticks) {

    public static final int WIDTH = 480;
    public static final int HEIGHT = 150;

    /** Room above the hill for words, and the line of minutes. */
    public static final int TOP = 24;

    public static final int LINE = 122;

    private static final int POINTS = 160;

    /**
     * A number under the line.
     *
     * @param at from the left
     */
    public record Tick(double at, int minutes) {}

    /** Units that the words beside the "4 in 5" line need. */
    private static final double LABEL = 44;

    /** Whether those words stand to the right of their line: where the slot's line would run through them else. */
    public boolean labelToTheRight() {
        return slot < fourInFive && slot > fourInFive - LABEL && fourInFive + LABEL < WIDTH;
    }

    /** Where those words begin or end. */
    public double labelBeside() {
        return round(fourInFive + (labelToTheRight() ? 4 : -4));
    }

    static Picture of(Estimate estimate) {
        MinutesDistribution minutes = estimate.inRoom();
        double end = Math.max(minutes.quantile(0.985), estimate.slotMinutes() * 1.08);
        double scale = WIDTH / end;
        double[] heights = heights(minutes, end);
        double cut = minutes.quantile(0.8);
        return new Picture(
                path(heights, end, end),
                path(heights, end, cut),
                round(minutes.quantile(0.5) * scale),
                round(cut * scale),
                round(estimate.slotMinutes() * scale),
                ticks(end, scale));
    }

    /** Corners of the calibration map lie up to this many points apart; the hill is smoothed over as many. */
    private static final int SMOOTH = 6;

    /** The share of visits that end about each point, smoothed twice so that corners of the cdf do not show. */
    private static double[] heights(MinutesDistribution minutes, double end) {
        double step = end / POINTS;
        double[] heights = new double[POINTS + 1];
        double most = 0;
        for (int i = 0; i <= POINTS; i++) {
            double at = i * step;
            for (int near = -SMOOTH; near <= SMOOTH; near++) {
                double centre = at + near * step;
                double upper = Math.max(0, centre + SMOOTH * step);
                heights[i] += minutes.cdf(upper) - minutes.cdf(Math.max(0, centre - SMOOTH * step));
            }
            most = Math.max(most, heights[i]);
        }
        for (int i = 0; i <= POINTS; i++) {
            heights[i] = most > 0 ? heights[i] / most : 0;
        }
        return heights;
    }

    private static String path(double[] heights, double end, double upTo) {
        StringBuilder path = new StringBuilder("M0 " + LINE);
        int last = (int) Math.min(POINTS, Math.floor(upTo / end * POINTS));
        for (int i = 0; i <= last; i++) {
            point(path, (double) i / POINTS * WIDTH, heights[i]);
        }
        if (last < POINTS) {
            double part = upTo / end * POINTS - last;
            double height = heights[last] + part * (heights[last + 1] - heights[last]);
            point(path, upTo / end * WIDTH, height);
        }
        return path.append(String.format(Locale.ROOT, "L%.1f %d Z", upTo / end * WIDTH, LINE))
                .toString();
    }

    private static void point(StringBuilder path, double x, double height) {
        path.append(String.format(Locale.ROOT, "L%.1f %.1f", x, LINE - height * (LINE - TOP)));
    }

    private static List<Tick> ticks(double end, double scale) {
        int step = end > 150 ? 30 : end > 75 ? 15 : end > 30 ? 10 : 5;
        List<Tick> ticks = new ArrayList<>();
        for (int minutes = 0; minutes * scale <= WIDTH - 12; minutes += step) {
            ticks.add(new Tick(round(minutes * scale), minutes));
        }
        return ticks;
    }

    private static double round(double value) {
        return Math.round(value * 10) / 10.0;
    }
}
