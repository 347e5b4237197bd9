package org.earslot.daysheet;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.earslot.caution.CautionSummary;
import org.earslot.caution.SoftenerAdvice;
import org.earslot.daysheet.DaySheet.LastTime;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.RedFlag;
import org.jspecify.annotations.Nullable;

/**
 * What a practitioner should know before a visit: the day sheet prints it and the running list shows it.
 *
 * @param person who comes: date of birth, telephone, interpreter, who consents
 * @param age in whole years on the day of the visit; null if the date of birth is not known
 * @param redFlags how far the red flags have been settled
 * @param redFlagNotes red flags answered with yes that stop nothing, but that the practitioner has to know
 * @param consentNotKnown whether this is a child of whom it is not known who consents
 * @param cautions today's answers beside what was recorded earlier of the patient
 * @param forbidding the cautions that forbid the planned method and that no practitioner has overridden
 * @param overridden who uses a contraindicated method and why; null if none is, or nobody has said so
 * @param reported what was reported of each ear to be treated; ears of which nothing was reported are left out
 * @param trays what to lay out
 * @param softener null for another kind of visit than the removal of wax
 * @param softenerUsual whether softener is usual before the planned method
 * @param softenerDays days of softener used so far; null if not known
 * @param lastTimes what was done to the ears before
 */
public record Briefing(
        PatientDetails person,
        @Nullable Integer age,
        RedFlagState redFlags,
        List<RedFlag> redFlagNotes,
        boolean consentNotKnown,
        CautionSummary cautions,
        List<Caution> forbidding,
        @Nullable Overridden overridden,
        Map<Ear, EarFindings> reported,
        List<String> trays,
        @Nullable SoftenerAdvice softener,
        boolean softenerUsual,
        @Nullable Integer softenerDays,
        List<LastTime> lastTimes) {

    /** How far the red flags have been settled. */
    public enum RedFlagState {
        /** Nothing is left to ask or to decide. */
        SETTLED,
        /** At least one is still to be asked. */
        NOT_ASKED,
        /** A clinician has not yet said what follows. */
        OPEN
    }

    /** A practitioner's word that the method is used in spite of these cautions. */
    public record Overridden(String who, List<Caution> cautions, String reason) {}

    public Briefing {
        redFlagNotes = List.copyOf(redFlagNotes);
        forbidding = List.copyOf(forbidding);
        reported = reported.isEmpty() ? Map.of() : new EnumMap<>(reported);
        trays = List.copyOf(trays);
        lastTimes = List.copyOf(lastTimes);
    }

    /** Whether the patient is to be asked for softener: it is usual before the method and nothing speaks against it. */
    public boolean needsSoftener() {
        return softenerUsual && softener != null && softener.use() == SoftenerAdvice.Use.ALLOWED;
    }

    /** Whether anything is said of softener: it is usual before the method, or a caution speaks against it. */
    public boolean speaksOfSoftener() {
        return softener != null
                && (softenerUsual
                        || softener.parts().stream()
                                .anyMatch(part -> !part.reasons().isEmpty()));
    }

    /** The date of birth, if it is known. */
    public @Nullable LocalDate born() {
        return person.dateOfBirth();
    }
}
