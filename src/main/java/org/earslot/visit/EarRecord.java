package org.earslot.visit;

import java.util.List;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.jspecify.annotations.Nullable;

/**
 * What was done to one ear and what came of it; null is "not known".
 *
 * @param methods the methods used, in order
 */
public record EarRecord(
        List<Method> methods,
        EarFindings found,
        @Nullable Outcome outcome,
        @Nullable AdverseEvent adverseEvent) {

    /** Nothing recorded. */
    public static final EarRecord EMPTY = new EarRecord(List.of(), EarFindings.UNKNOWN, null, null);

    public EarRecord {
        methods = List.copyOf(methods);
    }
}
