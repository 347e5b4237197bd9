package org.earslot.clinic;

import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Something the audit trail keeps. Rooms publish records of this type (or of their own types implementing it) as
 * application events; who asked and when is added by the listener. Never holds a patient's details.
 */
public interface Audited {

    ClinicId clinicId();

    /** What was done, with hyphens: {@code record-viewed}, {@code appointment-moved}. */
    String action();

    /** {@code patient}, {@code referral}, {@code appointment}, {@code visit}, ... */
    String subjectKind();

    @Nullable
    String subjectId();

    /** More, without a patient's details: what changed, by which rule. */
    @Nullable
    String detail();

    /** Who did it, if that is nobody who has signed in to this request; null for the program itself. */
    default @Nullable String actor() {
        return null;
    }

    /** The patients concerned, whatever the record: the trail links them, to answer who saw or changed one. */
    default Collection<UUID> patients() {
        return List.of();
    }

    /**
     * Patients were shown to whoever asks: one entry however many they are.
     *
     * @param where which page or address, without a patient's details
     */
    static Entry viewed(ClinicId clinicId, String where, Collection<UUID> patients) {
        Set<UUID> shown = Set.copyOf(patients);
        return shown.size() == 1
                ? new Entry(
                        clinicId,
                        "record-viewed",
                        "patient",
                        shown.iterator().next().toString(),
                        where,
                        shown)
                : new Entry(
                        clinicId, "record-viewed", "patient", null, where + ": " + shown.size() + " patients", shown);
    }

    /** The plainest of them. */
    record Entry(
            ClinicId clinicId,
            String action,
            String subjectKind,
            @Nullable String subjectId,
            @Nullable String detail,
            Collection<UUID> patients)
            implements Audited {

        /** Concerns the patient that is its record, or nobody. */
        public Entry(
                ClinicId clinicId,
                String action,
                String subjectKind,
                @Nullable String subjectId,
                @Nullable String detail) {
            this(clinicId, action, subjectKind, subjectId, detail, ownPatient(subjectKind, subjectId));
        }

        /** The same, of a record that belongs to this patient. */
        public Entry about(@Nullable UUID patientId) {
            Collection<UUID> concerned = patientId == null ? List.of() : List.of(patientId);
            return new Entry(clinicId, action, subjectKind, subjectId, detail, concerned);
        }

        private static Collection<UUID> ownPatient(String subjectKind, @Nullable String subjectId) {
            try {
                return subjectKind.equals("patient") && subjectId != null
                        ? List.of(UUID.fromString(subjectId))
                        : List.of();
            } catch (IllegalArgumentException e) {
                return List.of();
            }
        }
    }
}
