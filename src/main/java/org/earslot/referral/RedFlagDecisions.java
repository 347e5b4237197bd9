package org.earslot.referral;

import java.util.Collection;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * What clinicians have decided about a referral's red flags so far; an answer they have seen does not stop it again.
 *
 * @param yes answered with yes when it was decided
 * @param notKnown answered with "not known" then
 * @param unasked not asked then
 * @param words said then in own words
 */
record RedFlagDecisions(Set<RedFlag> yes, Set<RedFlag> notKnown, Set<RedFlag> unasked, Set<String> words) {

    static RedFlagDecisions of(Collection<RedFlagCase> cases) {
        RedFlagDecisions decided = new RedFlagDecisions(
                EnumSet.noneOf(RedFlag.class),
                EnumSet.noneOf(RedFlag.class),
                EnumSet.noneOf(RedFlag.class),
                new HashSet<>());
        cases.stream().filter(one -> !one.open()).forEach(settled -> {
            decided.yes.addAll(settled.flags());
            decided.notKnown.addAll(settled.flagsNotKnown());
            decided.unasked.addAll(settled.flagsUnasked());
            settled.words().ifPresent(decided.words::add);
        });
        return decided;
    }

    /** Whether something is said now that no clinician has decided on. */
    boolean leaveOpen(ReferralDetails said) {
        boolean wordsNew = said.redFlag() != null && !words.contains(said.redFlag());
        return wordsNew
                || !yes.containsAll(said.redFlagsRaised())
                || !both(yes, notKnown).containsAll(said.redFlagsNotKnown());
    }

    /** Those still to be asked that no clinician has let pass. */
    List<RedFlag> stillToAsk(ReferralDetails said) {
        Set<RedFlag> passed = both(both(yes, notKnown), unasked);
        return said.redFlagsUnasked().stream()
                .filter(flag -> !passed.contains(flag))
                .toList();
    }

    private static Set<RedFlag> both(Set<RedFlag> one, Set<RedFlag> other) {
        Set<RedFlag> both = EnumSet.copyOf(one);
        both.addAll(other);
        return both;
    }
}
