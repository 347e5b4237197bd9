package org.earslot.ear;

import org.jspecify.annotations.Nullable;

/** What is known of one ear, reported or found; {@code null} is "not known", which differs from every level. */
public record EarFindings(
        @Nullable Wax wax,
        @Nullable Canal canal,
        @Nullable Depth depth,
        @Nullable Occlusion occlusion) {

    /** Nothing known. */
    public static final EarFindings UNKNOWN = new EarFindings(null, null, null, null);

    /** Whether nothing at all is known. */
    public boolean isUnknown() {
        return equals(UNKNOWN);
    }
}
