package org.earslot.referral;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.earslot.ear.Answer;
import org.earslot.ear.UnknownCode;
import org.earslot.page.Form;
import org.earslot.page.PlainText;
import org.jspecify.annotations.Nullable;

/**
 * What was said of red flags.
 *
 * @param answers what was answered to each; one that is left out was not asked
 * @param words what was said in own words; null for nothing. Stops a routine booking
 * @param unknown stored with yes or "not known" in codes that this release does not know; a clinician decides
 */
public record RedFlagAnswers(
        Map<RedFlag, Answer> answers, @Nullable String words, List<UnknownCode> unknown) {

    /** Nothing was asked. */
    public static final RedFlagAnswers NOT_ASKED = new RedFlagAnswers(Map.of(), null);

    public RedFlagAnswers {
        answers = Map.copyOf(answers);
        unknown = List.copyOf(unknown);
    }

    /** Answers of which every code is known. */
    public RedFlagAnswers(Map<RedFlag, Answer> answers, @Nullable String words) {
        this(answers, words, List.of());
    }

    /** What was said in own words. */
    private record Words(
            @PlainText(max = 1000, lines = true) @Nullable String redFlag) {}

    /** One answer. */
    private record One(@Nullable Answer answer) {}

    /** Reads the list, one by one or "none of these" for all in one press. */
    public static RedFlagAnswers read(Form form) {
        Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.class);
        for (RedFlag flag : RedFlag.values()) {
            Answer answer = form.read(One.class, name -> "flag." + flag.code()).answer();
            if (answer != null) {
                answers.put(flag, answer);
            }
        }
        String words = form.read(Words.class).redFlag();
        if (form.fields().get("noneFlagged").isEmpty()) {
            return new RedFlagAnswers(answers, words);
        }
        if (!Set.of(Answer.NO).containsAll(answers.values())) {
            form.problem("noneFlagged", "referral.allowed.noneOrOneByOne");
        }
        return new RedFlagAnswers(RedFlag.noneOfThese(), words);
    }

    /** What was answered about {@code flag}; empty if it was not asked. */
    public Optional<Answer> of(RedFlag flag) {
        return Optional.ofNullable(answers.get(flag));
    }

    /** The red flags answered so, in the order in which they are asked; those that are only a note among them. */
    public List<RedFlag> answered(Answer answer) {
        return Arrays.stream(RedFlag.values())
                .filter(flag -> answers.get(flag) == answer)
                .toList();
    }

    /** The red flags answered with yes that stop a routine booking. */
    public List<RedFlag> raised() {
        return stopping(Answer.YES);
    }

    /** The red flags that were asked and could not be answered. */
    public List<RedFlag> notKnown() {
        return stopping(Answer.NOT_KNOWN);
    }

    private List<RedFlag> stopping(Answer answer) {
        return answered(answer).stream().filter(RedFlag::stops).toList();
    }

    /** The red flags still to be asked. */
    public List<RedFlag> unasked() {
        return RedFlag.stopping().stream()
                .filter(flag -> !answers.containsKey(flag))
                .toList();
    }

    /** Answered with yes, but only a note to the practitioner and the referrer. */
    public List<RedFlag> notes() {
        return answered(Answer.YES).stream().filter(flag -> !flag.stops()).toList();
    }

    /** Whether every red flag that stops a booking was asked, whatever the answer. */
    public boolean complete() {
        return unasked().isEmpty();
    }

    /** Whether an answer, or something said in own words, has to go to a clinician. */
    public boolean stop() {
        return words != null || !raised().isEmpty() || !notKnown().isEmpty() || !unknown.isEmpty();
    }

    /** Whether every red flag was asked and every answer is no. */
    public boolean allNo() {
        return !stop() && complete();
    }

    /** The same with these codes as they are stored. */
    RedFlagAnswers withUnknown(List<UnknownCode> stored) {
        return new RedFlagAnswers(answers, words, stored);
    }

    /** These answers, with {@code later} in their place where something was answered or said. */
    RedFlagAnswers updatedBy(RedFlagAnswers later) {
        Map<RedFlag, Answer> merged = new EnumMap<>(RedFlag.class);
        merged.putAll(answers);
        merged.putAll(later.answers);
        return new RedFlagAnswers(merged, later.words == null ? words : later.words, unknown);
    }
}
