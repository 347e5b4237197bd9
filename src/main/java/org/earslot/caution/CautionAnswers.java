package org.earslot.caution;

import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.earslot.ear.Caution;
import org.earslot.ear.UnknownCode;

/**
 * What was answered about cautions for a visit that is asked for.
 *
 * @param asked whether the list of cautions was read out; an empty list then means "none of these"
 * @param yes those answered with yes
 * @param notKnown those that were asked and could not be answered
 * @param unknown stored with yes or "not known" in codes that this release does not know; they never count as "no" and are
 *     to be clarified with the patient
 */
public record CautionAnswers(boolean asked, List<AskedCaution> yes, Set<Caution> notKnown, List<UnknownCode> unknown) {

    /** Nothing was asked. */
    public static final CautionAnswers NOT_ASKED = new CautionAnswers(false, List.of());

    public CautionAnswers {
        yes = List.copyOf(yes);
        notKnown = Set.copyOf(notKnown);
        unknown = List.copyOf(unknown);
    }

    /** Answers of which none is "not known" and every code is known. */
    public CautionAnswers(boolean asked, List<AskedCaution> yes) {
        this(asked, yes, Set.of(), List.of());
    }

    /** The cautions answered with yes, whatever else was said of them. */
    public Set<Caution> confirmed() {
        return yes.stream().map(AskedCaution::caution).collect(Collectors.toUnmodifiableSet());
    }

    /** The same with the list still to be read out; what was said before is to be confirmed. */
    public CautionAnswers toAsk() {
        return new CautionAnswers(false, yes, notKnown, unknown);
    }

    /** The same with these codes as they are stored. */
    public CautionAnswers withUnknown(List<UnknownCode> stored) {
        return new CautionAnswers(asked, yes, notKnown, stored);
    }
}
