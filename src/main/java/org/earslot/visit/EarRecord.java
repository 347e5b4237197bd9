package org.earslot.visit;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Caution;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.UnsuitableReason;
import org.jspecify.annotations.Nullable;

/**
 * What was done to one ear and what came of it; null is "not known".
 *
 * @param methods the methods used, in order
 * @param adverseEvents what went wrong, the most serious first; only {@link AdverseEvent#NONE} if nothing did, empty if that
 *     is not recorded
 * @param cautionsFound what otoscopy found that limits how wax may be taken out
 * @param unsuitable why the ear was unsuitable on the day, apart from what was found in it
 */
public record EarRecord(
        List<Method> methods,
        EarFindings found,
        @Nullable Outcome outcome,
        List<AdverseEvent> adverseEvents,
        Set<Caution> cautionsFound,
        @Nullable UnsuitableReason unsuitable) {

    /** Nothing recorded. */
    public static final EarRecord EMPTY = new EarRecord(List.of(), EarFindings.UNKNOWN, null, null);

    /** What is most often found on the day, to be shown first. */
    public static final List<Caution> OFTEN_FOUND = List.of(
            Caution.PERFORATION,
            Caution.OTITIS_EXTERNA,
            Caution.FOREIGN_BODY,
            Caution.CHOLESTEATOMA,
            Caution.EXOSTOSES,
            Caution.CANAL_NARROWING);

    /** What else can be found; a complication is recorded as an adverse event. */
    public static final List<Caution> ALSO_FOUND = Arrays.stream(Caution.values())
            .filter(caution -> !OFTEN_FOUND.contains(caution) && caution != Caution.COMPLICATION_BEFORE)
            .toList();

    public EarRecord {
        methods = List.copyOf(methods);
        adverseEvents = AdverseEvent.bySeriousness(adverseEvents);
        cautionsFound = Set.copyOf(cautionsFound);
    }

    /** Of an ear with at most one adverse event, in which nothing was found that is a caution. */
    public EarRecord(
            List<Method> methods, EarFindings found, @Nullable Outcome outcome, @Nullable AdverseEvent adverseEvent) {
        this(methods, found, outcome, adverseEvent == null ? List.of() : List.of(adverseEvent), Set.of(), null);
    }

    /**
     * The same as "as expected" leaves it: the planned method if none is recorded, a clear ear and no adverse event. What was
     * not looked at is not invented.
     */
    public EarRecord asExpected(Method planned) {
        return new EarRecord(
                methods.isEmpty() ? List.of(planned) : methods,
                found,
                Outcome.CLEAR,
                adverseEvents.isEmpty() ? List.of(AdverseEvent.NONE) : adverseEvents,
                cautionsFound,
                null);
    }

    /** Whether something went wrong in this ear. */
    public boolean harmed() {
        return adverseEvents.stream().anyMatch(AdverseEvent::harmed);
    }

    /** For where only one adverse event can be named; empty if nothing is recorded of any. */
    public Optional<AdverseEvent> mostSerious() {
        return adverseEvents.stream().findFirst();
    }
}
