package org.earslot.exchange.mapping;

import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.ear.Word;
import org.earslot.exchange.VisitColumn;
import org.earslot.exchange.csv.CellType;

/**
 * What a heading of the clinic's own can be mapped to: the columns of the visit log, and beside each pair of columns for
 * the right and the left ear one for "the ears treated", since many spreadsheets keep one column for both.
 */
public final class Targets {

    /** Without these, mapped or fixed, no line can go in; an id can be made of the others. */
    public static final List<String> NEEDED = VisitColumn.requiredHeadings();

    /** When the visit was booked and when it happened: from the booked start to the room ready. */
    public static final List<String> TIMES =
            headings(EnumSet.range(VisitColumn.BOOKED_START, VisitColumn.ROOM_READY).stream());

    /** Those of one ear. */
    private static final List<String> PER_EAR =
            headings(Arrays.stream(VisitColumn.values()).filter(VisitColumn::isPerEar));

    /** Those of the whole visit that are neither needed nor times. */
    private static final List<String> GENERAL = VisitColumn.headings().stream()
            .filter(column -> !NEEDED.contains(column) && !TIMES.contains(column) && !PER_EAR.contains(column))
            .toList();

    private static final String RIGHT = "right_";

    /** One column for whichever ears were treated: what was done and found, then what was reported. */
    public static final List<String> TREATED = PER_EAR.stream()
            .filter(column -> column.startsWith(RIGHT))
            .sorted(Comparator.comparing(column -> column.endsWith("_reported")))
            .map(column -> column.substring(RIGHT.length()))
            .toList();

    private static final Map<String, CellType<?>> TYPES = types();

    private Targets() {}

    private static List<String> headings(Stream<VisitColumn> columns) {
        return columns.map(VisitColumn::heading).toList();
    }

    private static Map<String, CellType<?>> types() {
        Map<String, CellType<?>> types = new HashMap<>();
        for (VisitColumn column : VisitColumn.values()) {
            types.put(column.heading(), column.type());
            treated(column.heading()).ifPresent(treated -> types.put(treated, column.type()));
        }
        return types;
    }

    /** All targets, the needed ones first. */
    public static List<String> all() {
        return Stream.of(NEEDED, TIMES, GENERAL, TREATED, PER_EAR)
                .flatMap(List::stream)
                .toList();
    }

    public static List<String> general() {
        return GENERAL;
    }

    public static List<String> perEar() {
        return PER_EAR;
    }

    /** The target for the ears treated that stands in for a column of one ear. */
    static Optional<String> treated(String column) {
        return PER_EAR.contains(column) ? Optional.of(column.substring(column.indexOf('_') + 1)) : Optional.empty();
    }

    /** What the cells of a target hold; free text where there is no such target. */
    static CellType<?> type(String target) {
        return TYPES.getOrDefault(target, CellType.TEXT);
    }

    /** Whether a cell may hold several words. */
    static boolean holdsSeveral(String target) {
        return type(target).shape() == CellType.Shape.WORDS;
    }

    /** The words that a target takes; empty where it takes no words of a list. */
    public static List<Word> words(String target) {
        return type(target).words();
    }

    /** What words in a note may stand for, by target. */
    public static Map<String, List<Word>> meanings() {
        Map<String, List<Word>> meanings = new LinkedHashMap<>();
        for (String target : List.of(
                "ears",
                "method_planned",
                "methods",
                "attendance",
                "stopped_early",
                "outcome",
                "wax_found",
                "canal_found",
                "depth_found",
                "cautions",
                "first_visit",
                "hearing_aid")) {
            meanings.put(target, words(target));
        }
        return meanings;
    }
}
