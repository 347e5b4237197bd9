package org.earslot.referral.web;

import io.swagger.v3.oas.annotations.Operation;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnsuitableReason;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.page.Messages;
import org.earslot.patient.ContactRoute;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.RedFlags;
import org.earslot.referral.ReferralStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

/** Every code that other programs may send or get, with the text that people see. */
@RestController
class VocabularyApi {

    private final RedFlags redFlags;
    private final CurrentClinic current;
    private final Messages messages;

    VocabularyApi(RedFlags redFlags, CurrentClinic current, Messages messages) {
        this.redFlags = redFlags;
        this.current = current;
        this.messages = messages;
    }

    /** A code and its text; of a red flag the question as this clinic asks it. */
    record Term(String code, String text) {}

    @Operation(summary = "api.summary.vocabulary")
    @GetMapping("/api/v1/vocabulary")
    Map<String, List<Term>> vocabulary() {
        Map<String, List<Term>> lists = new LinkedHashMap<>();
        lists.put(
                "redFlags",
                redFlags.texts(current.id()).stream()
                        .map(text -> new Term(text.flag().code(), text.ask()))
                        .toList());
        lists.put("cautions", terms(Caution.values()));
        lists.put("methods", terms(Method.values()));
        lists.put("ears", terms(Ear.values()));
        lists.put("wax", terms(Wax.values()));
        lists.put("canal", terms(Canal.values()));
        lists.put("depth", terms(Depth.values()));
        lists.put("occlusion", terms(Occlusion.values()));
        lists.put("outcomes", terms(Outcome.values()));
        lists.put("unsuitable", terms(UnsuitableReason.values()));
        lists.put("nextStep", terms(NextStep.values()));
        lists.put("stoppedEarly", terms(StoppedEarly.values()));
        lists.put("adverseEvents", terms(AdverseEvent.values()));
        lists.put("priorities", terms(Priority.values()));
        lists.put("origins", terms(Origin.values()));
        lists.put("preferredRoutes", terms(ContactRoute.values()));
        lists.put("referralStatus", terms(ReferralStatus.values()));
        return lists;
    }

    private List<Term> terms(Word[] words) {
        return Arrays.stream(words)
                .map(word ->
                        new Term(word.code(), messages.find(Messages.key(word)).orElse(word.code())))
                .toList();
    }
}
