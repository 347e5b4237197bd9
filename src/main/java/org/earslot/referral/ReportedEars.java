package org.earslot.referral;

import jakarta.persistence.Embeddable;
import jakarta.persistence.Embedded;
import java.util.Map;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.hibernate.annotations.EmbeddedColumnNaming;
import org.jspecify.annotations.Nullable;

/** What was reported of each ear. */
@Embeddable
public record ReportedEars(
        @Embedded @EmbeddedColumnNaming("right_%s") EarFindings right,
        @Embedded @EmbeddedColumnNaming("left_%s") EarFindings left) {

    /** Nothing was reported. */
    public static final ReportedEars UNKNOWN = new ReportedEars(EarFindings.UNKNOWN, EarFindings.UNKNOWN);

    public ReportedEars {
        right = known(right);
        left = known(left);
    }

    private static EarFindings known(@Nullable EarFindings findings) {
        return findings == null ? EarFindings.UNKNOWN : findings;
    }

    /** What was reported of {@code ear}. */
    public EarFindings of(Ear ear) {
        return ear == Ear.RIGHT ? right : left;
    }

    /** The same by ear. */
    public Map<Ear, EarFindings> byEar() {
        return Map.of(Ear.RIGHT, right, Ear.LEFT, left);
    }
}
