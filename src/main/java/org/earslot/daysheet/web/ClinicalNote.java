package org.earslot.daysheet.web;

import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.earslot.day.DaySchedule.Line;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.VisitCheck;
import org.earslot.ear.Word;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** What a visit found and did, as text for the clinical record. No name: it goes into the patient's own record. */
@Component
class ClinicalNote {

    private final MessageSource messages;

    ClinicalNote(MessageSource messages) {
        this.messages = messages;
    }

    String of(Line line, Visit visit, String practitioner) {
        List<String> lines = new ArrayList<>();
        lines.add(say("daysheet.note.head", visit.date().toString(), practitioner, line.roomName()));
        for (Ear ear : Ear.values()) {
            boolean planned = visit.ears().each().contains(ear);
            if (planned || !visit.recorded(ear).equals(EarRecord.EMPTY)) {
                lines.add(ear(ear, visit.recorded(ear)));
            }
        }
        visit.stoppedEarly()
                .filter(why -> why != StoppedEarly.NO)
                .ifPresent(why -> lines.add(say("daysheet.note.stopped", word(why))));
        visit.nextStep().ifPresent(step -> lines.add(say("daysheet.note.next", word(step))));
        if (!visit.cautions().isEmpty()) {
            lines.add(say(
                    "daysheet.note.cautions",
                    visit.cautions().stream().map(this::word).collect(Collectors.joining(", "))));
        }
        if (!visit.unknownCautions().isEmpty()) {
            lines.add(say(
                    "daysheet.note.unknownCautions",
                    visit.unknownCautions().stream().map(UnknownCode::shown).collect(Collectors.joining(", "))));
        }
        visit.softenerDays().ifPresent(days -> lines.add(say("daysheet.note.softener", days)));
        if (line.times().calledIn() != null && line.times().finished() != null) {
            lines.add(say(
                    "daysheet.note.times",
                    minute(line.times().calledIn()),
                    minute(line.times().finished())));
        }
        ticked(lines, "daysheet.note.checked", visit.checks().stream().sorted().toList());
        ticked(lines, "daysheet.note.notTicked", visit.unchecked());
        visit.note().ifPresent(lines::add);
        return String.join("\n", lines);
    }

    private void ticked(List<String> lines, String key, List<VisitCheck> checks) {
        if (!checks.isEmpty()) {
            lines.add(say(key, checks.stream().map(this::word).collect(Collectors.joining(", "))));
        }
    }

    private String ear(Ear ear, EarRecord record) {
        List<String> parts = new ArrayList<>();
        if (!record.methods().isEmpty()) {
            parts.add(record.methods().stream().map(this::word).collect(Collectors.joining(", ")));
        }
        String found = found(record.found());
        if (!found.isEmpty()) {
            parts.add(say("daysheet.note.found", found));
        }
        if (!record.cautionsFound().isEmpty()) {
            parts.add(say(
                    "daysheet.note.cautionsFound",
                    record.cautionsFound().stream().sorted().map(this::word).collect(Collectors.joining(", "))));
        }
        parts.add(
                record.outcome() == null
                        ? say("daysheet.note.noOutcome")
                        : say("daysheet.note.outcome", word(record.outcome())));
        if (record.unsuitable() != null) {
            parts.add(say("daysheet.note.unsuitable", word(record.unsuitable())));
        }
        if (record.adverseEvent() != null) {
            parts.add(say("daysheet.note.adverse", word(record.adverseEvent())));
        }
        String name = word(ear);
        return name.substring(0, 1).toUpperCase(Locale.ROOT) + name.substring(1) + ": " + String.join("; ", parts)
                + ".";
    }

    private String found(EarFindings found) {
        List<String> words = new ArrayList<>();
        add(words, "daysheet.note.wax", found.wax());
        add(words, "daysheet.note.canal", found.canal());
        add(words, "daysheet.note.depth", found.depth());
        add(words, "daysheet.note.occlusion", found.occlusion());
        return String.join(", ", words);
    }

    private void add(List<String> words, String key, @Nullable Word word) {
        if (word != null) {
            words.add(say(key, word(word)));
        }
    }

    private static String minute(LocalTime time) {
        return time.truncatedTo(ChronoUnit.MINUTES).toString();
    }

    private String word(Word word) {
        return say(kind(word) + "." + word.code());
    }

    private static String kind(Word word) {
        return word instanceof Enum<?> one ? one.getDeclaringClass().getSimpleName() : Caution.class.getSimpleName();
    }

    private String say(String key, Object... values) {
        return messages.getMessage(key, values, LocaleContextHolder.getLocale());
    }
}
