package org.earslot.caution;

import java.time.LocalDate;
import java.time.Period;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/**
 * What may be said about softener, ear by ear: the one rule that the letter, the day sheet, the follow-up and the booking
 * follow. No drops with a suspected perforation, nor the oil somebody is allergic to (MSD Manual). That a clinician is
 * asked first about the other cautions, and that "not known" counts as "yes", is common practice without a source.
 *
 * @param asked whether the list of cautions was read out at all
 * @param unclear whether a caution is stored in a code that is not known here, so that a clinician is asked first
 * @param against what speaks against softener, for each ear that is to be treated
 */
public record SoftenerAdvice(boolean asked, boolean unclear, Map<Ear, List<Reason>> against) {

    /** From best to worst. */
    public enum Use {
        ALLOWED,
        ASK_CLINICIAN,
        FORBIDDEN
    }

    /** @param notKnown whether nobody could say if the caution holds */
    public record Reason(Caution caution, boolean notKnown) {}

    /** Ears of which the same is said; both where it is the same for both. */
    public record Part(Ears ears, Use use, List<Reason> reasons) {

        /** Whether an allergy alone forbids softener, so that another kind may do. */
        public boolean byAllergyAlone() {
            return use == Use.FORBIDDEN
                    && reasons.stream()
                            .filter(reason -> useWith(reason.caution()) == Use.FORBIDDEN)
                            .allMatch(reason -> reason.caution() == Caution.SOFTENER_ALLERGY);
        }
    }

    /** How long an operation on the ear counts as recent; common practice, no source. */
    private static final Period RECENT_SURGERY = Period.ofMonths(6);

    private static final Set<Caution> OPERATIONS =
            EnumSet.of(Caution.EAR_SURGERY, Caution.EAR_IMPLANT, Caution.STAPES_SURGERY);

    public SoftenerAdvice {
        against = Map.copyOf(against);
    }

    /**
     * The advice for {@code ears} on a date.
     *
     * @param known the patient's cautions; an earlier one counts although today's answers leave it out
     */
    public static SoftenerAdvice of(CautionSummary known, Ears ears, LocalDate on) {
        Map<Ear, List<Reason>> against = new EnumMap<>(Ear.class);
        ears.each().forEach(ear -> against.put(ear, reasons(known, ear, on)));
        return new SoftenerAdvice(known.asked(), !known.unknown().isEmpty(), against);
    }

    /** Of a person of whom nothing is known. */
    public static SoftenerAdvice ofNobodyKnown(Ears ears) {
        return new SoftenerAdvice(
                false, false, ears.each().stream().collect(Collectors.toMap(Function.identity(), ear -> List.of())));
    }

    /** Whether softener is usual before that method; before the removal by hand it is not. */
    public static boolean usualBefore(@Nullable Method method) {
        return method == Method.IRRIGATION || method == Method.MICROSUCTION;
    }

    /** The strictest of what holds for the ears. */
    public Use use() {
        return parts().stream().map(Part::use).reduce(Use.ALLOWED, SoftenerAdvice::stricter);
    }

    /** Whether something other than an allergy speaks against putting anything into the ear. */
    public boolean drumInDoubt() {
        return !asked
                || unclear
                || against.values().stream()
                        .flatMap(List::stream)
                        .anyMatch(reason -> reason.caution() != Caution.SOFTENER_ALLERGY);
    }

    /** What is said of each ear, right before left; of both at once where it is the same. */
    public List<Part> parts() {
        Map<List<Reason>, List<Ear>> byReasons = new LinkedHashMap<>();
        Arrays.stream(Ear.values())
                .filter(against::containsKey)
                .forEach(ear -> byReasons
                        .computeIfAbsent(against.get(ear), same -> new ArrayList<>())
                        .add(ear));
        return byReasons.entrySet().stream()
                .map(same -> new Part(ears(same.getValue()), use(same.getKey()), same.getKey()))
                .toList();
    }

    private Use use(List<Reason> reasons) {
        return reasons.stream()
                .map(reason -> useWith(reason.caution()))
                .reduce(asked && !unclear ? Use.ALLOWED : Use.ASK_CLINICIAN, SoftenerAdvice::stricter);
    }

    private static List<Reason> reasons(CautionSummary known, Ear ear, LocalDate on) {
        Stream<AskedCaution> earlier = Stream.concat(known.toConfirm().stream(), known.contradicted().stream())
                .map(PatientCaution::asked);
        Stream<Reason> yes = Stream.concat(known.yes().stream(), earlier)
                .filter(caution -> caution.ear() == null || caution.ear() == ear)
                .filter(caution -> counts(caution, on))
                .map(caution -> new Reason(caution.caution(), false));
        Stream<Reason> notKnown = known.notKnown().stream().map(caution -> new Reason(caution, true));
        return Stream.concat(yes, notKnown)
                .filter(reason -> useWith(reason.caution()) != Use.ALLOWED)
                .distinct()
                .sorted((one, other) -> one.caution().compareTo(other.caution()))
                .toList();
    }

    /** Not once the drum is known to be intact, nor an operation of long ago. */
    private static boolean counts(AskedCaution asked, LocalDate on) {
        LocalDate since = asked.since();
        boolean longAgo =
                OPERATIONS.contains(asked.caution()) && since != null && on.isAfter(since.plus(RECENT_SURGERY));
        return !asked.allClear() && !longAgo;
    }

    /** Names every caution, so that a new one cannot be added without a decision about softener. */
    private static Use useWith(Caution caution) {
        return switch (caution) {
            case PERFORATION, GROMMET, SOFTENER_ALLERGY -> Use.FORBIDDEN;
            case HEALED_PERFORATION,
                    EAR_SURGERY,
                    MASTOID_CAVITY,
                    MIDDLE_EAR_INFECTION,
                    MUCUS_DISCHARGE,
                    OTITIS_EXTERNA,
                    FOREIGN_BODY,
                    INJURY_LATELY,
                    PAIN_OR_DISCHARGE_NOW,
                    EAR_IMPLANT,
                    STAPES_SURGERY,
                    RECENT_EAR_SURGERY -> Use.ASK_CLINICIAN;
            case RECURRENT_OTITIS_EXTERNA,
                    RETRACTION_POCKET,
                    CHOLESTEATOMA,
                    CLEFT_PALATE,
                    ONLY_HEARING_EAR,
                    COMPLICATION_BEFORE,
                    TINNITUS,
                    NOISE_INTOLERANCE,
                    DIZZINESS,
                    FAINTING,
                    ANTICOAGULANT,
                    BLEEDING_DISORDER,
                    DIABETES,
                    IMMUNOCOMPROMISED,
                    RADIOTHERAPY,
                    CANAL_NARROWING,
                    EXOSTOSES,
                    CANNOT_KEEP_STILL,
                    NEEDS_SUPPORT,
                    KERATOSIS_OBTURANS,
                    CANAL_SKIN_DISEASE,
                    VERTIGO_HISTORY,
                    CAPACITY_TO_CONSENT,
                    SEVERE_ANXIETY,
                    INFECTION_CONTROL,
                    CANNOT_BE_POSITIONED,
                    LATEX_ALLERGY -> Use.ALLOWED;
        };
    }

    private static Ears ears(List<Ear> ears) {
        return ears.size() > 1 ? Ears.BOTH : ears.get(0) == Ear.RIGHT ? Ears.RIGHT : Ears.LEFT;
    }

    private static Use stricter(Use one, Use other) {
        return one.compareTo(other) >= 0 ? one : other;
    }
}
