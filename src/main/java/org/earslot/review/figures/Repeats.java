package org.earslot.review.figures;

import java.util.ArrayList;
import java.util.List;

/**
 * Repeat visits per patient and ear: of the ears seen in the month, those that had been seen within the {@value #DAYS} days
 * before, by the method planned now. The first line is all methods, its method empty.
 *
 * @param lines methods without any ear seen are left out
 */
public record Repeats(List<Line> lines) {

    /** An ear that comes back within so many days counts; the project's own choice. */
    public static final int DAYS = 90;

    /**
     * One method.
     *
     * @param repeats ears seen again, of all ears seen
     */
    public record Line(String method, Share repeats) {}

    static Repeats of(List<Line> byMethod) {
        if (byMethod.isEmpty()) {
            return new Repeats(List.of());
        }
        int again = byMethod.stream().mapToInt(line -> line.repeats().count()).sum();
        int seen = byMethod.stream().mapToInt(line -> line.repeats().of()).sum();
        List<Line> lines = new ArrayList<>();
        lines.add(new Line("", new Share(again, seen)));
        lines.addAll(byMethod);
        return new Repeats(lines);
    }
}
