package org.earslot.day.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.day.Findings;
import org.earslot.ear.AdverseEvent;
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

    private static final List<String> ADVERSE = Word.codes(AdverseEvent.values());
    private static final List<String> CAUTIONS = Word.codes(Caution.values());

    /**
     * One ear.
     *
     * @param adverseEvent one of adverseEvents, for programs that know no list
     */
    record EarBody(
            @Nullable List<String> methods,
            @Nullable String wax,
            @Nullable String canal,
            @Nullable String depth,
            @Nullable String occlusion,
            @Nullable String outcome,
            @Nullable String adverseEvent,
            @Nullable List<String> adverseEvents,
            @Nullable List<String> cautionsFound,
            @Nullable String unsuitable) {}

    /** The findings, or problems in {@code reading}. */
    public Findings read(Reading reading) {
        Map<String, String> fields = new HashMap<>();
        List<Ear> ears = new ArrayList<>();
        ear(fields, ears, reading, Ear.RIGHT, right);
        ear(fields, ears, reading, Ear.LEFT, left);
        putWord(fields, "stoppedEarly", stoppedEarly);
        put(fields, "note", note);
        putWord(fields, "nextStep", nextStep);
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

            reading.refuse(
                    name + "methods",
                    String.valueOf(methods.size()),
                    "day.findings.allowed.methods",
                    FindingsForm.METHODS);
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
        ticks(fields, reading, name + "adverseEvents", name + FindingsForm.ADVERSE, body.adverseEvents(), ADVERSE);
        ticks(fields, reading, name + "cautionsFound", name + FindingsForm.FOUND, body.cautionsFound(), CAUTIONS);
    }

    /**
     * A list of codes as ticks of the form.
     *
     * @param tick what begins the name of a tick
     * @param allowed the codes known here
     */
    private static void ticks(
            Map<String, String> fields,
            Reading reading,
            String field,
            String tick,
            @Nullable List<String> codes,
            List<String> allowed) {
        List<String> given = codes == null ? List.of() : codes;
        if (given.size() > allowed.size()) {
            reading.refuse(field, String.valueOf(given.size()), "day.findings.allowed.codes", allowed.size());
            return;
        }
        given.forEach(code -> reading.word(
                        field, code, each -> Optional.of(each).filter(allowed::contains), allowed)
                .ifPresent(known -> fields.put(tick + known, "yes")));
    }

    /** Blank leaves what is recorded, as a field that is absent does. */
    private static void putWord(Map<String, String> fields, String name, @Nullable String code) {
        if (code != null && !code.isBlank()) {
            fields.put(name, code);
        }
    }

    private static void put(Map<String, String> fields, String name, @Nullable String value) {
        if (value != null) {
            fields.put(name, value);
        }
    }
}
