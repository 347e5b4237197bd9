package org.earslot.day.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.earslot.page.ChangedField;
import org.earslot.page.Messages;
import org.springframework.util.StringUtils;

/**
 * Brings findings that were typed into an older form up to date, so that they erase nothing when they are saved again: what
 * is recorded now is shown where nothing was typed.
 *
 * @param values the fields to show: what was typed, completed by what is recorded
 * @param changes each field in which the two differ
 */
public record FindingsChanges(Map<String, String> values, List<ChangedField> changes) {

    private static final Set<String> OF_THE_VISIT = Set.of("stoppedEarly", "note", "nextStep");

    public static FindingsChanges between(Map<String, String> typed, Map<String, String> recorded, Messages messages) {
        Map<String, String> values = new HashMap<>(typed);
        List<ChangedField> changes = new ArrayList<>();
        Set<String> fields = new TreeSet<>(recorded.keySet());
        typed.keySet().stream()
                .filter(field -> field.indexOf('.') > 0 || OF_THE_VISIT.contains(field))
                .forEach(fields::add);
        for (String field : fields) {
            String given = typed.getOrDefault(field, "").strip();
            String now = recorded.getOrDefault(field, "");
            if (!given.equals(now)) {
                changes.add(new ChangedField(label(field, messages), word(field, now, messages), given.isEmpty()));
                values.put(field, given.isEmpty() ? now : given);
            }
        }
        return new FindingsChanges(values, changes);
    }

    private static String label(String field, Messages messages) {
        int point = field.indexOf('.');
        if (point < 0) {
            return messages.say("appointment.findings." + field);
        }
        String of = field.substring(point + 1);
        return messages.say("Ear." + field.substring(0, point)) + ", " + ofAnEar(of, messages);
    }

    private static String ofAnEar(String of, Messages messages) {
        if (of.startsWith(FindingsForm.FOUND)) {
            return messages.say("Caution." + of.substring(FindingsForm.FOUND.length()));
        }
        return of.startsWith(FindingsForm.ADVERSE)
                ? messages.say("appointment.findings.adverseEvent") + ", "
                        + messages.say("AdverseEvent." + of.substring(FindingsForm.ADVERSE.length()))
                : messages.say("appointment.findings." + of);
    }

    private static String word(String field, String value, Messages messages) {
        if (value.isEmpty() || field.equals("note")) {
            return value;
        }
        String of = field.substring(field.indexOf('.') + 1);
        if (of.startsWith(FindingsForm.FOUND) || of.startsWith(FindingsForm.ADVERSE)) {
            return messages.say("Answer." + value);
        }
        String list =
                of.equals("unsuitable") ? "UnsuitableReason" : StringUtils.capitalize(of.replaceFirst("\\d$", ""));
        return messages.say(list + "." + value);
    }
}
