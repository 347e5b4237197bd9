package org.earslot.plan.web;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import org.earslot.flow.plan.TradeOff;
import org.earslot.flow.plan.TradeOff.Point;
import org.earslot.plan.PresentPolicy;
import org.jspecify.annotations.Nullable;

/**
 * The trade-off as a drawing: visits a session to the right, upwards the mean wait in one panel and the overtime in the
 * other. Each way of setting slots has its own mark and dashes; a mark is filled if the session ends late no more
 * often than is accepted.
 */
public record PlanPicture(List<Panel> panels) {

    static final int WIDTH = 1000;
    static final int HEIGHT = 330;

    private static final int TOP = 26;
    private static final int BOTTOM = 285;
    private static final int PANEL = 410;
    private static final int[] LEFT = {56, 560};
    private static final double LEAST_SCALE = 5;

    /** @param label key of its wording */
    public record Panel(
            String label,
            int x,
            int right,
            List<Tick> across,
            List<Tick> up,
            List<Line> lines,
            @Nullable Mark present) {}

    /** A line of the grid. */
    public record Tick(double at, String label) {}

    /**
     * One way of setting slots.
     *
     * @param points of the line
     * @param code which one
     */
    public record Line(String code, String points, List<Mark> marks) {}

    /**
     * A point.
     *
     * @param path its outline
     * @param within whether it ends late no more often than accepted
     */
    public record Mark(String path, boolean within, String title) {}

    static PlanPicture of(List<Point> points, @Nullable PresentPolicy present, double accepted) {
        List<Panel> panels = new ArrayList<>();
        panels.add(panel(
                "wait", LEFT[0], points, present, accepted, Point::meanWait, present == null ? 0 : present.meanWait()));
        panels.add(panel(
                "overtime",
                LEFT[1],
                points,
                present,
                accepted,
                Point::overtimeMinutes,
                present == null ? 0 : present.overtimeMinutes()));
        return new PlanPicture(panels);
    }

    private static Panel panel(
            String label,
            int x,
            List<Point> points,
            @Nullable PresentPolicy present,
            double accepted,
            ToDoubleFunction<Point> height,
            double presentHeight) {
        double nowVisits = present == null ? Double.NaN : present.visits();
        double first = Math.floor(least(points, nowVisits)) - 0.5;
        double last = Math.ceil(most(points, nowVisits)) + 0.5;
        double top = points.stream().mapToDouble(height).max().orElse(0);
        Scale scale = new Scale(x, first, last, nice(Math.max(LEAST_SCALE, Math.max(top, presentHeight))));
        List<Line> lines = new ArrayList<>();
        for (TradeOff.Policy policy : TradeOff.Policy.values()) {
            List<Point> mine = points.stream()
                    .filter(point -> point.policy() == policy)
                    .sorted(Comparator.comparingInt(Point::visits))
                    .toList();
            if (!mine.isEmpty()) {
                lines.add(line(policy, mine, scale, height, accepted));
            }
        }
        Mark mark = present == null
                ? null
                : new Mark(
                        cross(scale.x(present.visits()), scale.y(presentHeight)),
                        present.pastEnd() <= accepted,
                        number(present.visits()) + ": " + number(presentHeight));
        return new Panel(label, x, x + PANEL, scale.across(), scale.up(), lines, mark);
    }

    private static double least(List<Point> points, double present) {
        return Math.min(
                points.stream().mapToDouble(Point::visits).min().orElse(1), Double.isNaN(present) ? 1e9 : present);
    }

    private static double most(List<Point> points, double present) {
        return Math.max(
                points.stream().mapToDouble(Point::visits).max().orElse(1), Double.isNaN(present) ? 0 : present);
    }

    private static Line line(
            TradeOff.Policy policy, List<Point> own, Scale scale, ToDoubleFunction<Point> height, double accepted) {
        StringBuilder path = new StringBuilder();
        List<Mark> marks = new ArrayList<>();
        for (Point point : own) {
            double x = scale.x(point.visits());
            double y = scale.y(height.applyAsDouble(point));
            path.append(number(x)).append(',').append(number(y)).append(' ');
            marks.add(new Mark(
                    outline(policy.ordinal(), x, y),
                    point.pastEnd() <= accepted,
                    point.visits() + ": " + number(height.applyAsDouble(point))));
        }
        return new Line(code(policy), path.toString().strip(), marks);
    }

    /** The mark of the policy of that number, for the legend. */
    public String mark(int shape) {
        return outline(shape, 22, 8);
    }

    static String code(TradeOff.Policy policy) {
        return policy.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The mark of a way of setting slots: a shape of its own, so that no colour is needed. */
    static String outline(int shape, double x, double y) {
        return switch (shape) {
            case 0 -> polygon(x, y, 4, 5.5, Math.PI / 4);
            case 1 -> polygon(x, y, 3, 6, -Math.PI / 2);
            case 2 -> polygon(x, y, 4, 6, 0);
            case 3 -> polygon(x, y, 3, 6, Math.PI / 2);
            case 4 -> polygon(x, y, 12, 5, 0);
            default -> polygon(x, y, 5, 6, -Math.PI / 2);
        };
    }

    static String cross(double x, double y) {
        return "M" + number(x - 8) + " " + number(y - 8) + "L" + number(x + 8) + " " + number(y + 8) + "M"
                + number(x - 8) + " " + number(y + 8) + "L" + number(x + 8) + " " + number(y - 8);
    }

    private static String polygon(double x, double y, int corners, double radius, double turn) {
        StringBuilder path = new StringBuilder();
        for (int i = 0; i < corners; i++) {
            double angle = turn + 2 * Math.PI * i / corners;
            path.append(i == 0 ? "M" : "L")
                    .append(number(x + radius * Math.cos(angle)))
                    .append(' ')
                    .append(number(y + radius * Math.sin(angle)));
        }
        return path.append('Z').toString();
    }

    private static double nice(double top) {
        double step = top <= 10 ? 5 : top <= 40 ? 10 : 20;
        return Math.ceil(top / step) * step;
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.1f", value);
    }

    private record Scale(int left, double first, double last, double top) {

        double x(double visits) {
            return left + PANEL * (visits - first) / (last - first);
        }

        double y(double minutes) {
            return BOTTOM - (BOTTOM - TOP) * minutes / top;
        }

        List<Tick> across() {
            int step = last - first > 14 ? 2 : 1;
            return IntStream.rangeClosed((int) Math.ceil(first), (int) Math.floor(last))
                    .filter(visits -> visits % step == 0)
                    .mapToObj(visits -> new Tick(x(visits), String.valueOf(visits)))
                    .toList();
        }

        List<Tick> up() {
            double step = top <= 10 ? 5 : top <= 40 ? 10 : 20;
            return IntStream.rangeClosed(0, (int) Math.round(top / step))
                    .mapToObj(i -> new Tick(y(i * step), String.valueOf(Math.round(i * step))))
                    .toList();
        }
    }
}
