package org.earslot.clinic;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Something the audit trail keeps. Rooms publish records of this type (or of their own types implementing it) as
 * application events; who asked and when is added by the listener. Never holds a patient's details.
 */
public interface Audited {

    UUID clinicId();

    /** What was done, with hyphens: {@code patient-seen}, {@code appointment-moved}. */
    String action();

    /** {@code patient}, {@code referral}, {@code appointment}, {@code visit}, ... */
    String subjectKind();

    @Nullable
    String subjectId();

    /** More, without a patient's details: what changed, by which rule. */
    @Nullable
    String detail();

    /** The plainest of them. */
    record Entry(
            UUID clinicId,
            String action,
            String subjectKind,
            @Nullable String subjectId,
            @Nullable String detail) implements Audited {}
}
