package org.earslot.aftercare.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.Letters;
import org.earslot.booking.Appointment;
import org.earslot.booking.PlannedVisit;
import org.earslot.caution.SoftenerAdvice;
import org.earslot.ear.Answer;
import org.earslot.ear.UnknownCode;
import org.earslot.page.Messages;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.SoftenerRule;
import org.springframework.stereotype.Component;

/** What a referral puts into the fields of a letter, with the advice on softener before the visit. */
@Component
class ReferralFields {

    private final Letters letters;
    private final SoftenerRule softener;
    private final Messages messages;
    private final LetterWords words;

    ReferralFields(Letters letters, SoftenerRule softener, Messages messages) {
        this.letters = letters;
        this.softener = softener;
        this.messages = messages;
        this.words = new LetterWords(messages);
    }

    void put(Map<String, String> fields, Referral referral) {
        ReferralDetails said = referral.details();
        fields.put("reason", LetterWords.text(said.request().reason()));
        fields.put("referrer", LetterWords.text(said.source().referrer()));
        fields.put("received", LetterWords.day(said.source().receivedOn()));
        fields.put("ears", words.ears(said.request().ears()));
        fields.put(
                "cautions",
                words.cautions(said.cautions().yes(), said.cautions().unknown()));
        fields.put("flags", flags(said.redFlags()));
    }

    void putAdvice(Map<String, String> fields, Appointment appointment, Referral referral) {
        fields.put("advice", ClinicFields.piece(advice(appointment, referral), fields));
    }

    /** The method that it asks for, as the reader calls it. */
    String method(Referral referral, boolean toPatient) {
        return words.method(referral.details().request().methodPlanned(), toPatient);
    }

    /** "All asked, all no", "not asked", or the flags by any other answer. */
    private String flags(RedFlagAnswers said) {
        Map<String, List<String>> byAnswer = new LinkedHashMap<>();
        for (RedFlag flag : RedFlag.values()) {
            String answer =
                    said.of(flag).map(messages::word).orElseGet(() -> messages.say("aftercare.letter.flag.notAsked"));
            if (!said.of(flag).equals(Optional.of(Answer.NO))) {
                byAnswer.computeIfAbsent(answer, key -> new ArrayList<>())
                        .add(messages.say("aftercare.letter.flag." + flag.code()));
            }
        }
        if (!said.unknown().isEmpty()) {
            byAnswer.put(
                    messages.say("aftercare.letter.unknown"),
                    said.unknown().stream().map(UnknownCode::shown).toList());
        }
        if (byAnswer.isEmpty()) {
            return messages.say("aftercare.letter.flags.none");
        }
        if (Arrays.stream(RedFlag.values()).allMatch(flag -> said.of(flag).isEmpty())) {
            return messages.say("aftercare.letter.flag.notAsked");
        }
        return byAnswer.entrySet().stream()
                .map(entry -> entry.getKey() + ": " + String.join(", ", entry.getValue()))
                .collect(Collectors.joining("; "));
    }

    /** The method's own advice, or that softener is to be left alone; ear by ear where they differ. */
    private String advice(Appointment appointment, Referral referral) {
        PlannedVisit planned = appointment.planned();
        if (planned.method() == null || planned.ears() == null) {
            return "";
        }
        String byMethod = letters.body(appointment.clinicId(), LetterKind.adviceFor(planned.method()))
                .strip();
        List<SoftenerAdvice.Part> parts = softener.advice(
                        referral, planned.ears(), appointment.place().date())
                .parts();
        return parts.stream()
                .map(part -> advice(part, parts.size() == 1, byMethod))
                .collect(Collectors.joining(" "));
    }

    private String advice(SoftenerAdvice.Part part, boolean sameForAll, String byMethod) {
        String ears = messages.say("aftercare.advice.ears." + part.ears().code());
        if (part.use() == SoftenerAdvice.Use.ALLOWED) {
            return sameForAll ? byMethod : messages.say("aftercare.advice.only", ears) + " " + byMethod;
        }
        return messages.say("aftercare.advice." + (part.byAllergyAlone() ? "ALLERGY" : part.use()), ears);
    }
}
