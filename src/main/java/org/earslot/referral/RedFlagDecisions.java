package org.earslot.referral;

import java.util.Collection;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.earslot.ear.UnknownCode;

/**
 * What clinicians have decided about a referral's red flags so far; an answer they have seen does not stop it again.
 *
 * @param yes answered with yes when it was decided
 * @param notKnown answered with "not known" then
 * @param unasked not asked then
 * @param words said then in own words
 * @param unknown said then in codes that this release does not know
 */
record RedFlagDecisions(
        Set<RedFlag> yes, Set<RedFlag> notKnown, Set<RedFlag> unasked, Set<String> words, Set<UnknownCode> unknown) {

    static RedFlagDecisions of(Collection<RedFlagCase> cases) {
        RedFlagDecisions decided = new RedFlagDecisions(
                EnumSet.noneOf(RedFlag.class),
                EnumSet.noneOf(RedFlag.class),
                EnumSet.noneOf(RedFlag.class),
                new HashSet<>(),
                new HashSet<>());
        cases.stream().filter(one -> !one.open()).forEach(settled -> {
            decided.yes.addAll(settled.flags());
            decided.notKnown.addAll(settled.flagsNotKnown());
            decided.unasked.addAll(settled.flagsUnasked());
            settled.words().ifPresent(decided.words::add);
            decided.unknown.addAll(settled.unknown());
        });
        return decided;
    }

    /** Whether something is said now that no clinician has decided on. */
    boolean leaveOpen(RedFlagAnswers said) {
        boolean wordsNew = said.words() != null && !words.contains(said.words());
        return wordsNew
                || !stillUnknown(said).isEmpty()
                || !yes.containsAll(said.raised())
                || !both(yes, notKnown).containsAll(said.notKnown());
    }

    /** What is said in codes that are not known here and that no clinician has decided on. */
    List<UnknownCode> stillUnknown(RedFlagAnswers said) {
        return said.unknown().stream().filter(code -> !unknown.contains(code)).toList();
    }

    /** Those still to be asked that no clinician has let pass. */
    List<RedFlag> stillToAsk(RedFlagAnswers said) {
        Set<RedFlag> passed = both(both(yes, notKnown), unasked);
        return said.unasked().stream().filter(flag -> !passed.contains(flag)).toList();
    }

    private static Set<RedFlag> both(Set<RedFlag> one, Set<RedFlag> other) {
        Set<RedFlag> both = EnumSet.copyOf(one);
        both.addAll(other);
        return both;
    }
}
