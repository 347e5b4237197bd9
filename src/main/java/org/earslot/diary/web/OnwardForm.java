package org.earslot.diary.web;

import java.util.Map;
import java.util.Optional;
import org.earslot.diary.OnwardReferrals;
import org.earslot.diary.OnwardReferrals.Details;
import org.earslot.ear.Answer;
import org.earslot.ear.HearingChange;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
import org.earslot.referral.Priority;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** What a referral to another service says, as a form on the page of an appointment. */
@Component
class OnwardForm {

    private static final int LONGEST_NAME = 200;
    private static final int LONGEST_REASON = 500;

    private final OnwardReferrals referrals;

    OnwardForm(OnwardReferrals referrals) {
        this.referrals = referrals;
    }

    void show(Model model, Optional<Visit> visit) {
        Map<String, String> values = visit.flatMap(one -> referrals.of(one.clinicId(), one.id()))
                .map(OnwardForm::values)
                .orElse(Map.of());
        model.addAttribute("onward", values);
        model.addAttribute("priorities", Priority.values());
        model.addAttribute("hearingChanges", HearingChange.values());
        model.addAttribute("answers", Answer.values());
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
    static Details read(Map<String, String> typed, Reading reading) {
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
