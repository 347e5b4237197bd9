package org.earslot.referral.web;

import java.util.Map;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.CautionGroup;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.patient.ContactRoute;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlag;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ModelAttribute;

/** The words that the form offers, by the name of their type. */
@ControllerAdvice(
        assignableTypes = {
            ReferralListPage.class,
            ReferralFormPages.class,
            ReferralPages.class,
            DraftPages.class,
            PatientPages.class
        })
class WordLists {

    private static final Map<String, Word[]> WORDS = Map.ofEntries(
            Map.entry("Answer", Answer.values()),
            Map.entry("Canal", Canal.values()),
            Map.entry("Caution", Caution.values()),
            Map.entry("CautionGroup", CautionGroup.values()),
            Map.entry("ContactRoute", ContactRoute.values()),
            Map.entry("Depth", Depth.values()),
            Map.entry("Ear", Ear.values()),
            Map.entry("Ears", Ears.values()),
            Map.entry("Method", Method.values()),
            Map.entry("Occlusion", Occlusion.values()),
            Map.entry("Origin", Origin.values()),
            Map.entry("Priority", Priority.values()),
            Map.entry("RedFlag", RedFlag.values()),
            Map.entry("Wax", Wax.values()));

    @ModelAttribute("words")
    Map<String, Word[]> words() {
        return WORDS;
    }
}
