package org.earslot.aftercare.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.aftercare.Attempts;
import org.earslot.aftercare.FollowUps;
import org.earslot.aftercare.OnwardReferrals;
import org.earslot.booking.Appointment;
import org.earslot.booking.FoundCautions;
import org.earslot.caution.AskedCaution;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Ear;
import org.earslot.ear.NextStep;
import org.earslot.page.Messages;
import org.earslot.referral.RedFlag;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Component;
import org.springframework.util.StringUtils;

/** What a visit puts into the fields of a letter: only what was recorded, and what the practitioner decided. */
@Component
class VisitFields {

    private final Attempts attempts;
    private final FollowUps followUps;
    private final OnwardReferrals onward;
    private final Messages messages;
    private final LetterWords words;

    VisitFields(Attempts attempts, FollowUps followUps, OnwardReferrals onward, Messages messages) {
        this.attempts = attempts;
        this.followUps = followUps;
        this.onward = onward;
        this.messages = messages;
        this.words = new LetterWords(messages);
    }

    void put(Map<String, String> fields, Appointment appointment, Visit visit, List<RedFlag> notes, boolean toPatient) {
        String findings = findings(visit, toPatient);
        fields.put("findings", findings);
        fields.put("attempts", attempts(appointment, visit, toPatient));
        if (findings.isEmpty()) {
            return;
        }
        Optional<FollowUps.Next> follows = followUps.next(appointment);
        fields.put("adverse", adverse(visit));
        List<AskedCaution> found = FoundCautions.of(visit);
        fields.put(
                "found",
                found.isEmpty() ? messages.say("aftercare.letter.noneFound") : words.cautions(found, List.of()));
        follows.map(one -> words.cautions(one.cautions(), one.unknown()))
                .filter(cautions -> !cautions.isEmpty())
                .ifPresent(cautions -> fields.put("cautions", cautions));
        Optional<NextStep> decided = visit.nextStep();
        String step = decided.map(NextStep::code).orElse(follows.isEmpty() ? "nothing" : "");
        boolean noted = !notes.isEmpty() && !toPatient;
        boolean over = noted && (step.equals("nothing") || decided.equals(Optional.of(NextStep.ENOUGH)));
        String next = say("aftercare.letter.next." + step + (over ? ".noted" : ""), step);
        fields.put("next", noted ? (next + " " + noted(notes)).strip() : next);
        fields.put("acts", say("aftercare.letter.acts." + step + (over ? ".noted" : ""), step));
        onward.of(appointment.clinicId(), visit.id()).ifPresent(details -> {
            fields.put("to", LetterWords.text(details.to()));
            fields.put("why", LetterWords.text(details.reason()));
            fields.put("priority", messages.word(details.priority()));
            fields.put("hearing", messages.word(details.hearing()));
            fields.put("told", messages.word(details.told()));
        });
    }

    /** What was decided in words; blank while an ear is not clear and nothing is decided. */
    private String say(String key, String step) {
        return step.isEmpty() ? "" : messages.say(key);
    }

    /** What was answered of red flags that stop no visit, for the referrer to consider. */
    private String noted(List<RedFlag> notes) {
        return messages.say(
                "aftercare.letter.noted",
                notes.stream()
                        .map(flag -> messages.say("aftercare.letter.flag." + flag.code()))
                        .collect(Collectors.joining("; ")));
    }

    private String findings(Visit visit, boolean toPatient) {
        return Arrays.stream(Ear.values())
                .filter(ear -> visit.outcome(ear).isPresent())
                .map(ear -> messages.say(
                        "aftercare.letter.ear",
                        StringUtils.capitalize(messages.word(ear)),
                        messages.word(visit.outcome(ear).orElseThrow()),
                        words.methods(visit.methods(ear), toPatient)))
                .collect(Collectors.joining(" "));
    }

    private String attempts(Appointment appointment, Visit visit, boolean toPatient) {
        List<String> tried = new ArrayList<>();
        attempts.of(appointment.clinicId(), visit.patientRef(), visit.date())
                .forEach((ear, counts) -> counts.forEach((method, count) -> tried.add(messages.say(
                        "aftercare.letter.attempt",
                        messages.word(ear),
                        words.method(method, toPatient),
                        count.tried(),
                        count.failed()))));
        return String.join(" ", tried);
    }

    /** Each adverse event with its ear; "none" only if that was recorded of every ear treated. */
    private String adverse(Visit visit) {
        List<String> events = new ArrayList<>();
        boolean known = true;
        for (Ear ear : Ear.values()) {
            if (visit.outcome(ear).isPresent()) {
                List<AdverseEvent> recorded = visit.recorded(ear).adverseEvents();
                known &= !recorded.isEmpty();
                recorded.stream()
                        .filter(AdverseEvent::harmed)
                        .forEach(one -> events.add(messages.word(one) + " (" + messages.word(ear) + ")"));
            }
        }
        if (!events.isEmpty()) {
            return String.join(", ", events);
        }
        return known ? messages.word(AdverseEvent.NONE) : "";
    }
}
