package org.earslot.daysheet.web;

import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.earslot.day.DaySchedule.Line;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.VisitCheck;
import org.earslot.ear.Word;
import org.earslot.page.Messages;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What a visit found and did, as text for the clinical record. No name: it goes into the patient's own record. */
@Component
class ClinicalNote {

    private final Messages messages;

    ClinicalNote(Messages messages) {
        this.messages = messages;
    }

    String of(Line line, Visit visit, String practitioner) {
        List<String> lines = new ArrayList<>();
        lines.add(messages.say("daysheet.note.head", visit.date().toString(), practitioner, line.roomName()));
        for (Ear ear : Ear.values()) {
            boolean planned = visit.ears().each().contains(ear);
            if (planned || !visit.recorded(ear).equals(EarRecord.EMPTY)) {
                lines.add(ear(ear, visit.recorded(ear)));
            }
        }
        visit.stoppedEarly()
                .filter(why -> why != StoppedEarly.NO)
                .ifPresent(why -> lines.add(messages.say("daysheet.note.stopped", messages.word(why))));
        visit.nextStep().ifPresent(step -> lines.add(messages.say("daysheet.note.next", messages.word(step))));
        if (!visit.cautions().isEmpty()) {
            lines.add(messages.say("daysheet.note.cautions", messages.words(visit.cautions())));
        }
        if (!visit.unknownCautions().isEmpty()) {
            lines.add(messages.say(
                    "daysheet.note.unknownCautions",
                    visit.unknownCautions().stream().map(UnknownCode::shown).collect(Collectors.joining(", "))));
        }
        visit.softenerDays().ifPresent(days -> lines.add(messages.say("daysheet.note.softener", days)));
        if (line.times().calledIn() != null && line.times().finished() != null) {
            lines.add(messages.say(
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
            lines.add(messages.say(key, messages.words(checks)));
        }
    }

    private String ear(Ear ear, EarRecord record) {
        List<String> parts = new ArrayList<>();
        if (!record.methods().isEmpty()) {
            parts.add(messages.words(record.methods()));
        }
        String found = found(record.found());
        if (!found.isEmpty()) {
            parts.add(messages.say("daysheet.note.found", found));
        }
        if (!record.cautionsFound().isEmpty()) {
            parts.add(messages.say(
                    "daysheet.note.cautionsFound",
                    messages.words(record.cautionsFound().stream().sorted().toList())));
        }
        parts.add(
                record.outcome() == null
                        ? messages.say("daysheet.note.noOutcome")
                        : messages.say("daysheet.note.outcome", messages.word(record.outcome())));
        if (record.unsuitable() != null) {
            parts.add(messages.say("daysheet.note.unsuitable", messages.word(record.unsuitable())));
        }
        if (!record.adverseEvents().isEmpty()) {
            parts.add(messages.say(
                    "daysheet.note.adverse",
                    record.adverseEvents().stream().map(messages::word).collect(Collectors.joining(", "))));
        }
        String name = messages.word(ear);
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
            words.add(messages.say(key, messages.word(word)));
        }
    }

    private static String minute(LocalTime time) {
        return time.truncatedTo(ChronoUnit.MINUTES).toString();
    }
}
