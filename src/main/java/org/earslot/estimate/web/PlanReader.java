package org.earslot.estimate.web;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.estimate.VisitPlan;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;

/** Reads visits asked about from JSON, and gathers everything wrong with them under the path of each field. */
final class PlanReader {

    private static final int MOST_DAYS = 365;
    private static final int LONGEST_TEXT = 200;
    private static final int LONGEST_SHOWN = 4;
    private static final String LEAVE_OUT = "Leave it out, or give null, where it is not known.";

    private static final String CORRECT_NAME = "Leave it out, or correct its name.";
    private static final List<String> VISIT = List.of(
            "patientRef",
            "practitioner",
            "method",
            "ears",
            "firstVisit",
            "hearingAid",
            "cautions",
            "softenerDays",
            "reported",
            "referrer");
    private static final List<String> EARS = List.of(Ear.RIGHT.code(), Ear.LEFT.code());
    private static final List<String> FINDINGS = List.of("wax", "canal", "depth", "occlusion");

    private final Map<String, UUID> practitioners;
    private final Reading reading = new Reading();

    /** @param practitioners the clinic's, by name */
    PlanReader(Map<String, UUID> practitioners) {
        this.practitioners = practitioners;
    }

    /** Everything wrong so far. */
    List<Problem> problems() {
        return reading.problems();
    }

    /** Whether so much is wrong that no more is gathered. */
    boolean full() {
        return reading.full();
    }

    /** One visit; where something is wrong with it the problem is noted and the visit is of no use. */
    Optional<VisitPlan> read(JsonNode node, String path) {
        if (!node.isObject()) {
            problem(path.isEmpty() ? "body" : path, node, "an object", "Give an object with at least method and ears.");
            return Optional.empty();
        }
        int before = reading.problems().size();
        onlyFields(node, path, VISIT);
        Method method = required(node, path, "method", Method::of, Method.values());
        Ears ears = ears(node, path);
        VisitPlan plan = new VisitPlan(
                text(node, path, "patientRef"),
                practitioner(node, path),
                method == null ? Method.MICROSUCTION : method,
                ears == null ? Ears.BOTH : ears,
                answer(node, path, "firstVisit"),
                answer(node, path, "hearingAid"),
                cautions(node, path),
                days(node, path),
                reported(node, path),
                text(node, path, "referrer"));
        return reading.problems().size() == before ? Optional.of(plan) : Optional.empty();
    }

    private @Nullable Ears ears(JsonNode visit, String path) {
        JsonNode node = visit.path("ears");
        String allowed = "[\"right\"], [\"left\"] or [\"right\",\"left\"]";
        if (node.size() > Ear.values().length) {
            tooMany(node, path(path, "ears"), Ear.values());
            return null;
        }
        Set<Ear> named = EnumSet.noneOf(Ear.class);
        boolean right = node.isArray() && !node.isEmpty();
        for (JsonNode item : node.isArray() ? node : List.<JsonNode>of()) {
            Optional<Ear> ear = item.isString() ? Ear.of(item.stringValue()) : Optional.empty();
            right &= ear.isPresent() && named.add(ear.get());
        }
        if (!right) {
            problem(path(path, "ears"), node, allowed, "Name each ear to be treated once.");
            return null;
        }
        return named.size() == 2 ? Ears.BOTH : named.contains(Ear.RIGHT) ? Ears.RIGHT : Ears.LEFT;
    }

    private @Nullable UUID practitioner(JsonNode visit, String path) {
        String name = text(visit, path, "practitioner");
        if (name == null) {
            return null;
        }
        UUID id = practitioners.get(name);
        if (id == null) {
            problem(
                    path(path, "practitioner"),
                    visit.path("practitioner"),
                    "the name of a practitioner in set-up",
                    "Give a name from set-up, or leave it out for any practitioner.");
        }
        return id;
    }

    private Answer answer(JsonNode visit, String path, String field) {
        JsonNode node = visit.path(field);
        if (absent(node)) {
            return Answer.NOT_KNOWN;
        }
        if (!node.isBoolean()) {
            problem(path(path, field), node, "true or false", LEAVE_OUT);
            return Answer.NOT_KNOWN;
        }
        return node.booleanValue() ? Answer.YES : Answer.NO;
    }

    private Set<Caution> cautions(JsonNode visit, String path) {
        JsonNode node = visit.path("cautions");
        Set<Caution> known = EnumSet.noneOf(Caution.class);
        if (absent(node)) {
            return known;
        }
        if (!node.isArray()) {
            problem(path(path, "cautions"), node, "an array of words of the caution list", LEAVE_OUT);
            return known;
        }
        if (node.size() > Caution.values().length) {
            tooMany(node, path(path, "cautions"), Caution.values());
            return known;
        }
        for (int i = 0; i < node.size(); i++) {
            Caution caution = listed(node.get(i), path(path, "cautions[" + i + "]"), Caution::of, Caution.values());
            if (caution != null) {
                known.add(caution);
            }
        }
        return known;
    }

    private @Nullable Integer days(JsonNode visit, String path) {
        JsonNode node = visit.path("softenerDays");
        if (absent(node)) {
            return null;
        }
        if (!node.isIntegralNumber() || !node.canConvertToInt() || node.intValue() < 0 || node.intValue() > MOST_DAYS) {
            problem(path(path, "softenerDays"), node, "a whole number from 0 to " + MOST_DAYS, LEAVE_OUT);
            return null;
        }
        return node.intValue();
    }

    private Map<Ear, EarFindings> reported(JsonNode visit, String path) {
        JsonNode node = visit.path("reported");
        Map<Ear, EarFindings> reported = new EnumMap<>(Ear.class);
        if (absent(node)) {
            return reported;
        }
        if (!node.isObject()) {
            problem(path(path, "reported"), node, "an object with right and left", LEAVE_OUT);
            return reported;
        }
        onlyFields(node, path(path, "reported"), EARS);
        for (Ear ear : Ear.values()) {
            JsonNode of = node.path(ear.code());
            String at = path(path, "reported." + ear.code());
            if (absent(of)) {
                continue;
            }
            if (!of.isObject()) {
                problem(at, of, "an object with wax, canal, depth and occlusion", LEAVE_OUT);
                continue;
            }
            reported.put(ear, findings(of, at));
        }
        return reported;
    }

    private EarFindings findings(JsonNode ear, String path) {
        onlyFields(ear, path, FINDINGS);
        return new EarFindings(
                word(ear.path("wax"), path(path, "wax"), Wax::of, Wax.values()),
                word(ear.path("canal"), path(path, "canal"), Canal::of, Canal.values()),
                word(ear.path("depth"), path(path, "depth"), Depth::of, Depth.values()),
                word(ear.path("occlusion"), path(path, "occlusion"), Occlusion::of, Occlusion.values()));
    }

    private <W extends Word> @Nullable W required(
            JsonNode visit, String path, String field, Function<String, Optional<W>> words, W[] all) {
        JsonNode node = visit.path(field);
        if (absent(node)) {
            problem(path(path, field), node, oneOf(all), "Give one of them; it is needed.");
            return null;
        }
        return word(node, path(path, field), words, all);
    }

    private <W extends Word> @Nullable W word(
            JsonNode node, String path, Function<String, Optional<W>> words, W[] all) {
        return absent(node) ? null : listed(node, path, words, all);
    }

    /** An element of a list, where null is none of the words. */
    private <W extends Word> @Nullable W listed(
            JsonNode node, String path, Function<String, Optional<W>> words, W[] all) {
        Optional<W> word = node.isString() ? words.apply(node.stringValue()) : Optional.empty();
        if (word.isEmpty()) {
            problem(path, node, oneOf(all), LEAVE_OUT);
        }
        return word.orElse(null);
    }

    private @Nullable String text(JsonNode visit, String path, String field) {
        JsonNode node = visit.path(field);
        if (absent(node)) {
            return null;
        }
        if (!node.isString()) {
            problem(path(path, field), node, "a text of at most " + LONGEST_TEXT + " characters", LEAVE_OUT);
            return null;
        }
        return reading.text(path(path, field), node.stringValue(), LONGEST_TEXT).orElse(null);
    }

    private void onlyFields(JsonNode node, String path, List<String> fields) {
        for (String name : node.propertyNames()) {
            if (!fields.contains(name)) {
                reading.problem(path(path, name), "", "only " + String.join(", ", fields), CORRECT_NAME);
            }
        }
    }

    private void tooMany(JsonNode node, String path, Word[] all) {
        String given = node.size() + " elements";
        reading.problem(path, given, "at most " + all.length + " elements", "Name each once.");
    }

    private void problem(String path, JsonNode given, String allowed, String remedy) {
        reading.problem(path, path.endsWith("patientRef") ? "" : shown(given), allowed, remedy);
    }

    /** A value as it was given; a list or an object only where it is short and holds nothing but values. */
    private static String shown(JsonNode given) {
        if (given.isContainer()) {
            boolean brief = given.size() <= LONGEST_SHOWN && given.valueStream().allMatch(JsonNode::isValueNode);
            return brief ? given.toString() : given.isArray() ? "[…]" : "{…}";
        }
        return given.isMissingNode() ? "" : given.isString() ? given.stringValue() : given.toString();
    }

    private static boolean absent(JsonNode node) {
        return node.isMissingNode() || node.isNull();
    }

    private static String path(String path, String field) {
        return path.isEmpty() ? field : path + "." + field;
    }

    private static String oneOf(Word[] all) {
        return Word.codes(all).stream().collect(Collectors.joining(", "));
    }
}
