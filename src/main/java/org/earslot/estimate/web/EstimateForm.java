package org.earslot.estimate.web;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.springframework.util.MultiValueMap;

/** What is asked about, as typed: text, so that a wrong value is shown again as it was given. */
public final class EstimateForm {

    private final Map<String, String> values = new HashMap<>();
    private final List<String> cautions;

    /** The form as it came in; see {@link EstimateReading} for what each field may hold. */
    EstimateForm(MultiValueMap<String, String> given) {
        values.putAll(given.toSingleValueMap());
        cautions = List.copyOf(given.getOrDefault("cautions", List.of()));
    }

    /** What a field holds; empty where nothing. */
    public String get(String field) {
        return values.getOrDefault(field, "");
    }

    /** Whether a caution is answered with yes. */
    public boolean has(String caution) {
        return cautions.contains(caution);
    }

    /** Whether any caution is answered with yes. */
    public boolean anyCaution() {
        return !cautions.isEmpty();
    }

    /** Whether nothing was answered yet. */
    boolean blank() {
        return values.values().stream().allMatch(String::isEmpty);
    }

    List<String> cautions() {
        return cautions;
    }
}
