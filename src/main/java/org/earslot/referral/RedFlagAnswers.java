package org.earslot.referral;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.earslot.ear.Answer;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
import org.jspecify.annotations.Nullable;

/**
 * What a form says of red flags.
 *
 * @param answers what was answered to each; one that is left out was not asked
 * @param words what was said in own words; null for nothing
 */
public record RedFlagAnswers(
        Map<RedFlag, Answer> answers, @Nullable String words) {

    private static final int LONGEST_WORDS = 1000;

    public RedFlagAnswers {
        answers = Map.copyOf(answers);
    }

    /**
     * Reads the list, one by one or "none of these" for all in one press.
     *
     * @param field what each field holds; null or empty for nothing
     */
    public static RedFlagAnswers read(Reading reading, UnaryOperator<@Nullable String> field) {
        Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.class);
        for (RedFlag flag : RedFlag.values()) {
            String name = "flag." + flag.code();
            reading.word(name, field.apply(name), Answer::of, Word.codes(Answer.values()))
                    .ifPresent(answer -> answers.put(flag, answer));
        }
        Optional<String> words = reading.lines("redFlag", field.apply("redFlag"), LONGEST_WORDS);
        String none = field.apply("noneFlagged");
        if (none == null || none.isEmpty()) {
            return new RedFlagAnswers(answers, words.orElse(null));
        }
        if (!Set.of(Answer.NO).containsAll(answers.values())) {
            reading.problem(
                    "noneFlagged", "", "either \"none of these\" or answers one by one", "take one of the two away");
        }
        return new RedFlagAnswers(RedFlag.noneOfThese(), words.orElse(null));
    }

    /** Whether every red flag that stops a booking has an answer. */
    public boolean complete() {
        return answers.keySet().containsAll(RedFlag.stopping());
    }

    /** Whether a clinician has to decide. */
    public boolean stop() {
        return words != null
                || answers.entrySet().stream().anyMatch(one -> one.getKey().stops() && one.getValue() != Answer.NO);
    }
}
