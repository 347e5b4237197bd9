package org.earslot.exchange.mapping;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.visit.VisitLine;

/**
 * What a heading of the clinic's own can be mapped to: the columns of the visit log, and beside each pair of columns for
 * the right and the left ear one for "the ears treated", since many spreadsheets keep one column for both.
 */
public final class TargetsBefore {

    /** Without these, mapped or fixed, no line can go in; an id can be made of the others. */
    public static final List<String> NEEDED =
            List.of("visit_id", "patient_ref", "date", "practitioner", "attendance", "method_planned", "ears");

    public static final List<String> TIMES =
            List.of("booked_start", "slot_minutes", "arrived", "called_in", "finished", "room_ready");

    /** One column for whichever ears were treated. */
    public static final List<String> TREATED = List.of(
            "methods",
            "wax_found",
            "canal_found",
            "depth_found",
            "occlusion_found",
            "outcome",
            "wax_reported",
            "canal_reported",
            "depth_reported",
            "occlusion_reported");

    private static final List<String> CLOCK = List.of("booked_start", "arrived", "called_in", "finished", "room_ready");

    private TargetsBefore() {}

    /** All targets, the needed ones first. */
    public static List<String> all() {
        List<String> all = new ArrayList<>(NEEDED);
        all.addAll(TIMES);
        all.addAll(general());
        all.addAll(TREATED);
        all.addAll(perEar());
        return all;
    }

    /** Those of the whole visit that are neither needed nor times. */
    public static List<String> general() {
        return VisitLine.COLUMNS.stream()
                .filter(column -> !NEEDED.contains(column) && !TIMES.contains(column) && !isPerEar(column))
                .toList();
    }

    /** Those of one ear. */
    public static List<String> perEar() {
        return VisitLine.COLUMNS.stream().filter(TargetsBefore::isPerEar).toList();
    }

    private static boolean isPerEar(String column) {
        return column.startsWith("right_") || column.startsWith("left_");
    }

    /** The target for the ears treated that stands in for a column of one ear. */
    static Optional<String> treated(String column) {
        return isPerEar(column) ? Optional.of(column.substring(column.indexOf('_') + 1)) : Optional.empty();
    }

    static boolean isTime(String target) {
        return CLOCK.contains(target);
    }

    /** Whether a cell may hold several words. */
    static boolean holdsSeveral(String target) {
        return target.equals("cautions") || target.endsWith("methods");
    }

    /** The words that a target takes; empty where it takes no words of a list. */
    public static List<Word> words(String target) {
        String kind = treated(target).orElse(target);
        int end = kind.indexOf("_found") > 0 ? kind.indexOf("_found") : kind.indexOf("_reported");
        return switch (end > 0 ? kind.substring(0, end) : kind) {
            case "attendance" -> List.of(Attendance.values());
            case "method_planned", "methods" -> List.of(Method.values());
            case "ears" -> List.of(Ears.values());
            case "first_visit", "hearing_aid" -> List.of(Answer.YES, Answer.NO);
            case "cautions" -> List.of(Caution.values());
            case "wax" -> List.of(Wax.values());
            case "canal" -> List.of(Canal.values());
            case "depth" -> List.of(Depth.values());
            case "occlusion" -> List.of(Occlusion.values());
            case "outcome" -> List.of(Outcome.values());
            case "stopped_early" -> List.of(StoppedEarly.values());
            default -> List.of();
        };
    }

    /** The message that names a word of a list: its type and its code. */
    public static String key(Word word) {
        return word.getClass().getSimpleName() + "." + word.code();
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
