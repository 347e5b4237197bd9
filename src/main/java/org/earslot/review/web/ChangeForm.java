package org.earslot.review.web;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.clinic.policy.SlotAdjustments;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.page.Reading;

/** Other slots as typed: another accepted share, other minutes beyond the estimate for one kind of visit, or both. */
final class ChangeForm {

    private final Map<String, String> typed;
    private final SlotTerms inForce;

    ChangeForm(Map<String, String> typed, SlotTerms inForce) {
        this.typed = typed;
        this.inForce = inForce;
    }

    /** What was typed; the share in force where nothing was. */
    public String get(String field) {
        String given = typed.get(field);
        if (given != null) {
            return given;
        }
        return field.equals("percent") ? String.valueOf(Math.round(inForce.acceptedOverrunShare() * 100)) : "";
    }

    /** The terms asked about; those in force where nothing else was typed. */
    SlotTerms terms(Reading reading) {
        Optional<Integer> percent = reading.whole("percent", typed.get("percent"), 1, 99);
        Optional<SlotKind> kind = reading.word(
                "kind",
                typed.get("kind"),
                SlotKind::of,
                SlotKind.all().stream().map(SlotKind::code).toList());
        int most = SlotAdjustments.MOST;
        Optional<Integer> minutes = kind.isPresent()
                ? reading.requiredWhole("minutes", typed.get("minutes"), -most, most)
                : reading.whole("minutes", typed.get("minutes"), -most, most);
        SlotTerms terms = inForce;
        // A share typed as it stands, in whole percent, is no change.
        if (percent.isPresent() && percent.get() != Math.round(inForce.acceptedOverrunShare() * 100)) {
            terms = terms.accepting(percent.get() / 100.0);
        }
        if (kind.isPresent() && minutes.isPresent()) {
            terms = terms.with(kind.get(), minutes.get());
        }
        return terms;
    }

    /** Says which terms a page was made for, so that a press on an old page changes nothing. */
    static String code(SlotTerms terms) {
        return String.join(
                "|",
                List.of(
                        String.valueOf(terms.acceptedOverrunShare()),
                        terms.adjustments().text()));
    }
}
