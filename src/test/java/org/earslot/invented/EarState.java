package org.earslot.invented;

import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;

/** One ear as it truly is: the ordinals of wax, canal, depth, occlusion. */
record EarState(int wax, int canal, int depth, int occlusion) {

    static final int FIELDS = 4;
    static final int WAX = 0;
    static final int CANAL = 1;
    static final int DEPTH = 2;
    static final int OCCLUSION = 3;

    /** Levels of each field. */
    static final int[] LEVELS = {
        Wax.values().length, Canal.values().length, Depth.values().length, Occlusion.values().length
    };

    int level(int field) {
        return switch (field) {
            case WAX -> wax;
            case CANAL -> canal;
            case DEPTH -> depth;
            default -> occlusion;
        };
    }

    /** Ordinals of what is written, -1 where nothing is. */
    static int[] ordinals(EarFindings findings) {
        return new int[] {
            findings.wax() == null ? -1 : findings.wax().ordinal(),
            findings.canal() == null ? -1 : findings.canal().ordinal(),
            findings.depth() == null ? -1 : findings.depth().ordinal(),
            findings.occlusion() == null ? -1 : findings.occlusion().ordinal()
        };
    }

    /** What is written, from ordinals (-1: nothing). */
    static EarFindings findings(int[] written) {
        return new EarFindings(
                written[WAX] < 0 ? null : Wax.values()[written[WAX]],
                written[CANAL] < 0 ? null : Canal.values()[written[CANAL]],
                written[DEPTH] < 0 ? null : Depth.values()[written[DEPTH]],
                written[OCCLUSION] < 0 ? null : Occlusion.values()[written[OCCLUSION]]);
    }
}
