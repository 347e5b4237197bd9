package org.earslot.ear;

import java.time.Period;
import java.util.Optional;

/**
 * A circumstance that limits how wax may be taken out. One without a period lasts: it belongs to the patient until a
 * practitioner corrects it. One with a period passes that long after it was last so; the periods of infection and
 * discharge are those of the table of cautions, the others are common practice, no source.
 */
public enum Caution implements Word {
    PERFORATION("perforation"),
    GROMMET("grommet"),
    HEALED_PERFORATION("healed_perforation"),
    EAR_SURGERY("ear_surgery"),
    MASTOID_CAVITY("mastoid_cavity"),
    MIDDLE_EAR_INFECTION("middle_ear_infection", Period.ofWeeks(6)),
    MUCUS_DISCHARGE("mucus_discharge", Period.ofMonths(12)),
    OTITIS_EXTERNA("otitis_externa", Period.ofWeeks(6)),
    RECURRENT_OTITIS_EXTERNA("recurrent_otitis_externa"),
    RETRACTION_POCKET("retraction_pocket"),
    CHOLESTEATOMA("cholesteatoma"),
    CLEFT_PALATE("cleft_palate"),
    FOREIGN_BODY("foreign_body", Period.ofWeeks(12)),
    ONLY_HEARING_EAR("only_hearing_ear"),
    COMPLICATION_BEFORE("complication_before"),
    TINNITUS("tinnitus"),
    NOISE_INTOLERANCE("noise_intolerance"),
    DIZZINESS("dizziness"),
    FAINTING("fainting"),
    ANTICOAGULANT("anticoagulant"),
    BLEEDING_DISORDER("bleeding_disorder"),
    DIABETES("diabetes"),
    IMMUNOCOMPROMISED("immunocompromised"),
    RADIOTHERAPY("radiotherapy"),
    CANAL_NARROWING("canal_narrowing"),
    EXOSTOSES("exostoses"),
    CANNOT_KEEP_STILL("cannot_keep_still"),
    NEEDS_SUPPORT("needs_support"),
    SOFTENER_ALLERGY("softener_allergy"),
    INJURY_LATELY("injury_lately", Period.ofWeeks(6)),
    PAIN_OR_DISCHARGE_NOW("pain_or_discharge_now", Period.ofWeeks(6)),
    EAR_IMPLANT("ear_implant"),
    STAPES_SURGERY("stapes_surgery"),
    RECENT_EAR_SURGERY("recent_ear_surgery", Period.ofWeeks(6)),
    KERATOSIS_OBTURANS("keratosis_obturans"),
    CANAL_SKIN_DISEASE("canal_skin_disease"),
    VERTIGO_HISTORY("vertigo_history"),
    CAPACITY_TO_CONSENT("capacity_to_consent"),
    SEVERE_ANXIETY("severe_anxiety"),
    INFECTION_CONTROL("infection_control"),
    CANNOT_BE_POSITIONED("cannot_be_positioned"),
    LATEX_ALLERGY("latex_allergy");

    private final String code;
    private final Optional<Period> passesAfter;

    Caution(String code) {
        this(code, Optional.empty());
    }

    Caution(String code, Period passesAfter) {
        this(code, Optional.of(passesAfter));
    }

    Caution(String code, Optional<Period> passesAfter) {
        this.code = code;
        this.passesAfter = passesAfter;
    }

    @Override
    public String code() {
        return code;
    }

    /** How long after it was last so it still counts as known of the patient; empty where it lasts. */
    public Optional<Period> passesAfter() {
        return passesAfter;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Caution> of(String code) {
        return Word.find(values(), code);
    }
}
