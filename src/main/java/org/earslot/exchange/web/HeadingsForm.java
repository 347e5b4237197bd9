package org.earslot.exchange.web;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Word;
import org.earslot.exchange.mapping.ClinicMapping;
import org.earslot.exchange.mapping.DateOrder;
import org.earslot.exchange.mapping.SampleRows;
import org.earslot.exchange.mapping.Targets;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.springframework.util.MultiValueMap;

/** The first step of a mapping as it was typed: which heading each target goes by, or which value all lines have. */
final class HeadingsForm {

    private static final String HEADING = "heading.";
    private static final String FIXED = "fixed.";
    private static final int LONGEST = 200;

    private final Map<String, String> values;

    private HeadingsForm(Map<String, String> values) {
        this.values = values;
    }

    static HeadingsForm of(ClinicMapping mapping) {
        Map<String, String> values = new LinkedHashMap<>();
        values.put("dates", mapping.dates().code());
        mapping.headings().forEach((target, heading) -> values.put(HEADING + target, heading));
        mapping.fixed().forEach((target, value) -> values.put(FIXED + target, value));
        return new HeadingsForm(values);
    }

    static HeadingsForm typed(MultiValueMap<String, String> given) {
        return new HeadingsForm(given.toSingleValueMap());
    }

    /** The targets as the page groups them. */
    static Map<String, List<String>> groups() {
        Map<String, List<String>> groups = new LinkedHashMap<>();
        groups.put("needed", Targets.NEEDED);
        groups.put("times", Targets.TIMES);
        groups.put("general", Targets.general());
        groups.put("treated", Targets.TREATED);
        groups.put("perEar", Targets.perEar());
        return groups;
    }

    /** What was typed in a field. */
    public String get(String field) {
        return values.getOrDefault(field, "").strip();
    }

    public String heading(String target) {
        return get(HEADING + target);
    }

    public String fixed(String target) {
        return get(FIXED + target);
    }

    /** Whether every line may have one and the same value of the target. */
    public boolean mayBeFixed(String target) {
        return Targets.NEEDED.contains(target)
                && !List.of("visit_id", "patient_ref", "date").contains(target);
    }

    public List<Word> words(String target) {
        return Targets.words(target);
    }

    /** The message that names a word. */
    public String key(Word word) {
        return Messages.key(word);
    }

    List<Problem> problems(SampleRows sheet) {
        List<Problem> problems = new ArrayList<>();
        if (DateOrder.of(get("dates")).isEmpty()) {
            problems.add(Problem.of("dates", get("dates"), "exchange.allowed.dates"));
        }
        for (String target : Targets.all()) {
            if (!heading(target).isEmpty() && !sheet.headings().contains(heading(target))) {
                problems.add(Problem.of(target, heading(target), "exchange.allowed.heading"));
            }
        }
        for (String target : Targets.NEEDED) {
            check(target, problems);
        }
        return problems;
    }

    private void check(String target, List<Problem> problems) {
        boolean may = mayBeFixed(target);
        if (heading(target).isEmpty()
                && !target.equals("visit_id")
                && !(may && !fixed(target).isEmpty())) {
            problems.add(Problem.of(target, "", may ? "exchange.allowed.neededOrFixed" : "exchange.allowed.needed"));
        }
        boolean known = Targets.words(target).isEmpty()
                || Targets.words(target).stream().anyMatch(word -> word.code().equals(fixed(target)));
        if (may && !fixed(target).isEmpty() && (!known || fixed(target).length() > LONGEST)) {
            problems.add(Problem.of(target, fixed(target), "exchange.allowed.value"));
        }
    }

    /** The mapping with these headings, and the words that were confirmed before. */
    ClinicMapping mapping(SampleRows sheet, ClinicMapping before) {
        Map<String, String> headings = new LinkedHashMap<>();
        Map<String, String> fixed = new LinkedHashMap<>();
        for (String target : Targets.all()) {
            if (!heading(target).isEmpty()) {
                headings.put(target, heading(target));
            }
            if (mayBeFixed(target) && !fixed(target).isEmpty()) {
                fixed.put(target, fixed(target));
            }
        }
        return new ClinicMapping(
                sheet.encoding(),
                String.valueOf(sheet.separator()),
                DateOrder.of(get("dates")).orElseThrow(),
                headings,
                fixed,
                before.words(),
                before.noteWords());
    }
}
