package org.earslot.day.web;

import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.LocalClock;
import org.earslot.day.Findings;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnsuitableReason;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.jspecify.annotations.Nullable;

/** What was typed of findings and outcome, as text: fields {@code right.wax}, {@code left.outcome}, {@code note}, ... */
public final class FindingsForm {

    /** At most this many methods in order have fields in the form. */
    static final int METHODS = 4;

    /** The words to choose from, by type. */
    public static final Map<String, Word[]> LISTS = Map.of(
            "Method", Method.values(),
            "Wax", Wax.values(),
            "Canal", Canal.values(),
            "Depth", Depth.values(),
            "Occlusion", Occlusion.values(),
            "Outcome", Outcome.values(),
            "AdverseEvent", AdverseEvent.values(),
            "StoppedEarly", StoppedEarly.values(),
            "UnsuitableReason", UnsuitableReason.values(),
            "NextStep", NextStep.values());

    /** What begins the name of a tick of a caution found, after the ear. */
    static final String FOUND = "found.";

    /** What begins the name of a tick of an adverse event, after the ear. */
    static final String ADVERSE = "adverse.";

    private static final int LONGEST_NOTE = 2000;
    private static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("HH:mm");

    private final Map<String, String> typed;
    private final Reading reading;

    public FindingsForm(Map<String, String> typed, Reading reading) {
        this.typed = typed;
        this.reading = reading;
    }

    /** The fields as they stand, for a form that is shown. */
    public static Map<String, String> showing(Optional<Visit> visit, LocalClock times) {
        Map<String, String> fields = new HashMap<>();
        put(fields, "arrived", times.arrived());
        put(fields, "calledIn", times.calledIn());
        put(fields, "finished", times.finished());
        put(fields, "roomReady", times.roomReady());
        visit.ifPresent(known -> fields.putAll(recorded(known)));
        return fields;
    }

    /** The fields of findings and outcome as they are recorded; a tick that is not there is left out. */
    public static Map<String, String> recorded(Visit visit) {
        Map<String, String> fields = new HashMap<>();
        for (Ear ear : Ear.values()) {
            ear(fields, ear.code() + ".", visit.recorded(ear));
        }
        put(fields, "stoppedEarly", visit.stoppedEarly().orElse(null));
        fields.put("note", visit.note().orElse(""));
        put(fields, "nextStep", visit.nextStep().orElse(null));
        return fields;
    }

    /** The findings of the ears that have fields, or problems in the reading. */
    public Findings read(List<Ear> ears) {
        Map<Ear, EarRecord> records = new EnumMap<>(Ear.class);
        for (Ear ear : ears) {
            records.put(ear, ear(ear.code() + "."));
        }
        String note = reading.lines("note", typed.get("note"), LONGEST_NOTE).orElse("");
        return new Findings(
                records,
                entry("stoppedEarly", StoppedEarly::of, StoppedEarly.values()),
                note,
                entry("nextStep", NextStep::of, NextStep.values()));
    }

    /** The ears of a visit that a form may record. */
    static List<Ear> either() {
        return Ears.BOTH.each();
    }

    private EarRecord ear(String name) {
        List<Method> methods = new ArrayList<>();
        for (int i = 1; i <= METHODS; i++) {
            Method method = word(name + "method" + i, Method::of, Method.values());
            if (method != null) {
                methods.add(method);
            }
        }
        EarFindings found = new EarFindings(
                word(name + "wax", Wax::of, Wax.values()),
                word(name + "canal", Canal::of, Canal.values()),
                word(name + "depth", Depth::of, Depth.values()),
                word(name + "occlusion", Occlusion::of, Occlusion.values()));
        Outcome outcome = word(name + "outcome", Outcome::of, Outcome.values());
        Set<Caution> cautions = Arrays.stream(Caution.values())
                .filter(caution -> "yes".equals(typed.get(name + FOUND + caution.code())))
                .collect(Collectors.toUnmodifiableSet());
        UnsuitableReason unsuitable = word(name + "unsuitable", UnsuitableReason::of, UnsuitableReason.values());
        if (outcome == Outcome.UNSUITABLE_ON_DAY && unsuitable == null && cautions.isEmpty()) {
            reading.required(
                    name + "unsuitable",
                    Optional.empty(),
                    "day.findings.reasonNeeded",
                    String.join(", ", Word.codes(UnsuitableReason.values())));
        }
        if (outcome != Outcome.UNSUITABLE_ON_DAY && unsuitable != null) {
            reading.refuse(
                    name + "unsuitable",
                    unsuitable.code(),
                    "day.findings.reasonOnly",
                    Outcome.UNSUITABLE_ON_DAY.code());
        }
        return new EarRecord(methods, found, outcome, adverse(name), cautions, unsuitable);
    }

    /** The ticks, and the one field of a program that knows no list. */
    private List<AdverseEvent> adverse(String name) {
        List<AdverseEvent> events = new ArrayList<>();
        reading.word(
                        name + "adverseEvent",
                        typed.get(name + "adverseEvent"),
                        AdverseEvent::of,
                        Word.codes(AdverseEvent.values()))
                .ifPresent(events::add);
        Arrays.stream(AdverseEvent.values())
                .filter(event -> "yes".equals(typed.get(name + ADVERSE + event.code())))
                .forEach(events::add);
        if (events.contains(AdverseEvent.NONE) && events.stream().anyMatch(AdverseEvent::harmed)) {
            reading.refuse(
                    name + "adverseEvents",
                    String.join(", ", Word.codes(events.toArray(AdverseEvent[]::new))),
                    "day.findings.allowed.noneAlone",
                    AdverseEvent.NONE.code());
        }
        return events;
    }

    /** A field that is there and blank removes what is recorded; one that is not there leaves it. */
    private <W extends Word> Findings.Entry<W> entry(String field, Function<String, Optional<W>> find, Word[] words) {
        return new Findings.Entry<>(typed.get(field) != null, word(field, find, words));
    }

    private <W extends Word> @Nullable W word(String field, Function<String, Optional<W>> find, Word[] words) {
        return reading.word(field, typed.get(field), find, Word.codes(words)).orElse(null);
    }

    private static void ear(Map<String, String> fields, String name, EarRecord record) {
        for (int i = 0; i < Math.min(METHODS, record.methods().size()); i++) {
            fields.put(name + "method" + (i + 1), record.methods().get(i).code());
        }
        put(fields, name + "wax", record.found().wax());
        put(fields, name + "canal", record.found().canal());
        put(fields, name + "depth", record.found().depth());
        put(fields, name + "occlusion", record.found().occlusion());
        put(fields, name + "outcome", record.outcome());
        record.adverseEvents().forEach(event -> fields.put(name + ADVERSE + event.code(), "yes"));
        put(fields, name + "unsuitable", record.unsuitable());
        record.cautionsFound().forEach(caution -> fields.put(name + FOUND + caution.code(), "yes"));
    }

    private static void put(Map<String, String> fields, String name, @Nullable Word word) {
        fields.put(name, word == null ? "" : word.code());
    }

    private static void put(Map<String, String> fields, String name, @Nullable LocalTime time) {
        fields.put(name, time == null ? "" : MINUTE.format(time));
    }
}
