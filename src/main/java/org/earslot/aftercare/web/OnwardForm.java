package org.earslot.aftercare.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.earslot.aftercare.OnwardReferrals;
import org.earslot.aftercare.OnwardReferrals.Details;
import org.earslot.ear.Answer;
import org.earslot.ear.HearingChange;
import org.earslot.ear.Word;
import org.earslot.page.ChangedField;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.referral.Priority;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** What a referral to another service says, as a form on the page of an appointment. */
@Component
public class OnwardForm {

    private static final int LONGEST_NAME = 200;
    private static final int LONGEST_REASON = 500;

    /** Fields with words of a list, and the name of the list. */
    private static final Map<String, String> LISTS =
            Map.of("priority", "Priority", "hearing", "HearingChange", "told", "Answer");

    private final OnwardReferrals referrals;

    OnwardForm(OnwardReferrals referrals) {
        this.referrals = referrals;
    }

    public void show(Model model, Optional<Visit> visit) {
        model.addAttribute("onward", stored(visit));
        model.addAttribute("onwardVersion", version(visit));
        model.addAttribute("priorities", Priority.values());
        model.addAttribute("hearingChanges", HearingChange.values());
        model.addAttribute("answers", Answer.values());
    }

    /** Shows what was typed while somebody else saved, and names each difference. */
    public void showChanged(Model model, Optional<Visit> visit, Map<String, String> typed, Messages messages) {
        Map<String, String> values = new HashMap<>();
        List<ChangedField> changes = new ArrayList<>();
        stored(visit).forEach((field, now) -> {
            String given = typed.getOrDefault(field, "").strip();
            values.put(field, given.isEmpty() ? now : given);
            if (!given.equals(now)) {
                String list = LISTS.get(field);
                String said = list == null ? now : messages.say(list + "." + now);
                changes.add(new ChangedField(messages.say("aftercare.onward." + field), said, given.isEmpty()));
            }
        });
        model.addAttribute("onward", values);
        model.addAttribute("onwardChanges", changes);
    }

    /** The version of the form of this visit. */
    public FormVersion version(Optional<Visit> visit) {
        return FormVersion.ofText(new TreeMap<>(stored(visit)).toString());
    }

    private Map<String, String> stored(Optional<Visit> visit) {
        return visit.flatMap(one -> referrals.of(one.clinicId(), one.id()))
                .map(OnwardForm::values)
                .orElse(Map.of());
    }

    private static Map<String, String> values(Details details) {
        return Map.of(
                "to", LetterWords.text(details.to()),
                "reason", LetterWords.text(details.reason()),
                "priority", details.priority().code(),
                "hearing", details.hearing().code(),
                "told", details.told().code());
    }

    /** What was typed, or problems in {@code reading}. */
    public static Details read(Map<String, String> typed, Reading reading) {
        return new Details(
                reading.text("to", typed.get("to"), LONGEST_NAME).orElse(null),
                reading.text("reason", typed.get("reason"), LONGEST_REASON).orElse(null),
                reading.word("priority", typed.get("priority"), Priority::of, Word.codes(Priority.values()))
                        .orElse(Priority.ROUTINE),
                reading.word("hearing", typed.get("hearing"), HearingChange::of, Word.codes(HearingChange.values()))
                        .orElse(HearingChange.NOT_KNOWN),
                reading.word("told", typed.get("told"), Answer::of, Word.codes(Answer.values()))
                        .orElse(Answer.NOT_KNOWN));
    }
}
