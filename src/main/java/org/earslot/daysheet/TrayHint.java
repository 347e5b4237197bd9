package org.earslot.daysheet;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;

/** What to lay out, from common practice (no source): a hint, which the practitioner and local protocol overrule. */
public enum TrayHint {
    /** Loose or sticky wax. */
    OPEN_CURETTE,
    /** Firm or hard wax. */
    HOOK_OR_FORCEPS,
    /** Wax in the deep canal or against the drum. */
    LONG_STEEL,
    /** A narrow canal. */
    FINE;

    /** Names the hint in message files. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** For instruments in the hand; water and suction have no tray of their own here. */
    static List<TrayHint> of(Method method, List<EarFindings> reported) {
        Set<TrayHint> hints = EnumSet.noneOf(TrayHint.class);
        if (method == Method.MANUAL_REMOVAL) {
            reported.forEach(ear -> hints.addAll(of(ear)));
        }
        return new ArrayList<>(hints);
    }

    private static Set<TrayHint> of(EarFindings ear) {
        Set<TrayHint> hints = EnumSet.noneOf(TrayHint.class);
        if (ear.wax() == Wax.LOOSE || ear.wax() == Wax.STICKY) {
            hints.add(OPEN_CURETTE);
        }
        if (ear.wax() == Wax.FIRM || ear.wax() == Wax.HARD) {
            hints.add(HOOK_OR_FORCEPS);
        }
        if (ear.depth() == Depth.DEEP_CANAL || ear.depth() == Depth.AGAINST_DRUM) {
            hints.add(LONG_STEEL);
        }
        if (ear.canal() == Canal.NARROW || ear.canal() == Canal.VERY_NARROW) {
            hints.add(FINE);
        }
        return hints;
    }
}
