package org.earslot.referral;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.earslot.ear.Answer;
import org.earslot.ear.UnknownCode;
import org.jspecify.annotations.Nullable;

/**
 * What was said of red flags as it is stored: the codes by their answer, joined by semicolons, those among them that this
 * release does not know.
 */
@Embeddable
record RedFlagColumns(
        @Column(name = "red_flag") @Nullable String words,
        @Column(name = "red_flags_yes") @Nullable String yes,
        @Column(name = "red_flags_no") @Nullable String no,
        @Column(name = "red_flags_not_known") @Nullable String notKnown) {

    static final RedFlagColumns NONE = new RedFlagColumns(null, null, null, null);

    /** These answers. A code that is not known here stays: no form shows it, so none can replace it. */
    RedFlagColumns replacedBy(RedFlagAnswers answers) {
        return new RedFlagColumns(
                answers.words(),
                answered(yes, answers, Answer.YES),
                answered(no, answers, Answer.NO),
                answered(notKnown, answers, Answer.NOT_KNOWN));
    }

    private static @Nullable String answered(@Nullable String before, RedFlagAnswers answers, Answer answer) {
        return Codes.joined(answers.answered(answer), Codes.unknown(before, RedFlag.values()));
    }

    RedFlagAnswers answers() {
        Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.class);
        Codes.read(no, RedFlag::of).forEach(flag -> answers.put(flag, Answer.NO));
        Codes.read(notKnown, RedFlag::of).forEach(flag -> answers.put(flag, Answer.NOT_KNOWN));
        Codes.read(yes, RedFlag::of).forEach(flag -> answers.put(flag, Answer.YES));
        List<UnknownCode> unknown = Stream.concat(
                        Codes.unknown(yes, RedFlag.values()).stream(),
                        Codes.unknown(notKnown, RedFlag.values()).stream())
                .distinct()
                .toList();
        return new RedFlagAnswers(answers, words, unknown);
    }
}
