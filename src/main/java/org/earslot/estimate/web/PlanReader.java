package org.earslot.estimate.web;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
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
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;

/** Reads visits asked about from JSON, and gathers everything wrong with them under the path of each field. */
final class PlanReader {

    private static final int MOST_DAYS = 365;
    private static final int LONGEST_TEXT = 200;
    private static final int LONGEST_SHOWN = 4;
    private static final String LEAVE_OUT = "estimate.ask.leaveOut";

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
            reading.refuse(path.isEmpty() ? "body" : path, shown(node), "estimate.ask.visit");
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
            reading.refuse(path(path, "ears"), shown(node), "estimate.ask.ears");
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
            reading.refuse(path(path, "practitioner"), shown(visit.path("practitioner")), "estimate.ask.practitioner");
        }
        return id;
    }

    private Answer answer(JsonNode visit, String path, String field) {
        JsonNode node = visit.path(field);
        if (absent(node)) {
            return Answer.NOT_KNOWN;
        }
        if (!node.isBoolean()) {
            unusable(path(path, field), node, "page.allowed.trueOrFalse");
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
            unusable(path(path, "cautions"), node, "estimate.ask.cautions");
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
            unusable(path(path, "softenerDays"), node, "page.allowed.wholeBetween", 0, MOST_DAYS);
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
            unusable(path(path, "reported"), node, "estimate.ask.reported");
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
                unusable(at, of, "estimate.ask.findings");
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
            reading.refuse(path(path, field), shown(node), "estimate.ask.needed", String.join(", ", Word.codes(all)));
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
            unusable(path, node, "page.said", String.join(", ", Word.codes(all)));
        }
        return word.orElse(null);
    }

    private @Nullable String text(JsonNode visit, String path, String field) {
        JsonNode node = visit.path(field);
        if (absent(node)) {
            return null;
        }
        if (!node.isString()) {
            unusable(path(path, field), node, "estimate.ask.text", LONGEST_TEXT);
            return null;
        }
        return reading.text(path(path, field), node.stringValue(), LONGEST_TEXT).orElse(null);
    }

    private void onlyFields(JsonNode node, String path, List<String> fields) {
        for (String name : node.propertyNames()) {
            if (!fields.contains(name)) {
                reading.refuse(path(path, name), "", "estimate.ask.fields", String.join(", ", fields));
            }
        }
    }

    private void tooMany(JsonNode node, String path, Word[] all) {

        reading.refuse(path, String.valueOf(node.size()), "estimate.ask.elements", all.length);
    }

    /** Refuses a value that may also be left out. */
    private void unusable(String path, JsonNode given, String key, Object... arguments) {
        reading.add(new Problem(
                path,
                path.endsWith("patientRef") ? "" : shown(given),
                Messages.text(key, arguments),
                Messages.text(LEAVE_OUT)));
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
}
