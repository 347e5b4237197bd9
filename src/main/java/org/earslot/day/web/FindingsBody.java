package org.earslot.day.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.day.Findings;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
import org.jspecify.annotations.Nullable;

/** Findings and outcome as other programs send them; an ear left out stays as it is. */
public record FindingsBody(
        @Nullable EarBody right,
        @Nullable EarBody left,
        @Nullable String stoppedEarly,
        @Nullable String note,
        @Nullable String nextStep) {

    /** One ear. */
    record EarBody(
            @Nullable List<String> methods,
            @Nullable String wax,
            @Nullable String canal,
            @Nullable String depth,
            @Nullable String occlusion,
            @Nullable String outcome,
            @Nullable String adverseEvent,
            @Nullable List<String> cautionsFound,
            @Nullable String unsuitable) {}

    /** The findings, or problems in {@code reading}. */
    public Findings read(Reading reading) {
        Map<String, String> fields = new HashMap<>();
        List<Ear> ears = new ArrayList<>();
        ear(fields, ears, reading, Ear.RIGHT, right);
        ear(fields, ears, reading, Ear.LEFT, left);
        put(fields, "stoppedEarly", stoppedEarly);
        put(fields, "note", note);
        put(fields, "nextStep", nextStep);
        Findings findings = new FindingsForm(fields, reading).read(ears);
        return note == null
                ? new Findings(findings.ears(), findings.stoppedEarly(), null, findings.nextStep())
                : findings;
    }

    private static void ear(
            Map<String, String> fields, List<Ear> ears, Reading reading, Ear ear, @Nullable EarBody body) {
        if (body == null) {
            return;
        }
        ears.add(ear);
        String name = ear.code() + ".";
        List<String> methods = body.methods() == null ? List.of() : body.methods();
        if (methods.size() > FindingsForm.METHODS) {
            String allowed = "at most " + FindingsForm.METHODS + " methods, in order";
            reading.problem(name + "methods", methods.size() + " methods", allowed, "give " + allowed);
        }
        for (int i = 0; i < Math.min(methods.size(), FindingsForm.METHODS); i++) {
            put(fields, name + "method" + (i + 1), methods.get(i));
        }
        put(fields, name + "wax", body.wax());
        put(fields, name + "canal", body.canal());
        put(fields, name + "depth", body.depth());
        put(fields, name + "occlusion", body.occlusion());
        put(fields, name + "outcome", body.outcome());
        put(fields, name + "adverseEvent", body.adverseEvent());
        put(fields, name + "unsuitable", body.unsuitable());
        List<String> found = body.cautionsFound() == null ? List.of() : body.cautionsFound();
        if (found.size() > Caution.values().length) {
            String allowed = "at most " + Caution.values().length + " cautions";
            reading.problem(name + "cautionsFound", found.size() + " cautions", allowed, "name each once");
            return;
        }
        found.forEach(code -> reading.word(name + "cautionsFound", code, Caution::of, Word.codes(Caution.values()))
                .ifPresent(caution -> fields.put(name + FindingsForm.FOUND + caution.code(), "yes")));
    }

    private static void put(Map<String, String> fields, String name, @Nullable String value) {
        if (value != null) {
            fields.put(name, value);
        }
    }
}
