package org.earslot.ear;

import java.time.Period;
import java.util.Optional;

/**
 * A circumstance that limits how wax may be taken out. One without a period lasts: it belongs to the patient until a
 * practitioner corrects it. One with a period passes that long after it was last so; the periods of infection and
 * discharge are those of the table of cautions, the others are common practice, no source.
 */
public enum Caution implements Word {
    PERFORATION("perforation", CautionGroup.DRUM),
    GROMMET("grommet", CautionGroup.DRUM),
    HEALED_PERFORATION("healed_perforation", CautionGroup.DRUM),
    EAR_SURGERY("ear_surgery", CautionGroup.DRUM),
    MASTOID_CAVITY("mastoid_cavity", CautionGroup.DRUM),
    MIDDLE_EAR_INFECTION("middle_ear_infection", CautionGroup.EAR, Period.ofWeeks(6)),
    MUCUS_DISCHARGE("mucus_discharge", CautionGroup.EAR, Period.ofMonths(12)),
    OTITIS_EXTERNA("otitis_externa", CautionGroup.EAR, Period.ofWeeks(6)),
    RECURRENT_OTITIS_EXTERNA("recurrent_otitis_externa", CautionGroup.EAR),
    RETRACTION_POCKET("retraction_pocket", CautionGroup.DRUM),
    CHOLESTEATOMA("cholesteatoma", CautionGroup.DRUM),
    CLEFT_PALATE("cleft_palate", CautionGroup.DRUM),
    FOREIGN_BODY("foreign_body", CautionGroup.EAR, Period.ofWeeks(12)),
    ONLY_HEARING_EAR("only_hearing_ear", CautionGroup.HEARING),
    COMPLICATION_BEFORE("complication_before", CautionGroup.HEARING),
    TINNITUS("tinnitus", CautionGroup.HEARING),
    NOISE_INTOLERANCE("noise_intolerance", CautionGroup.HEARING),
    DIZZINESS("dizziness", CautionGroup.HEARING),
    FAINTING("fainting", CautionGroup.HEARING),
    ANTICOAGULANT("anticoagulant", CautionGroup.HEALTH),
    BLEEDING_DISORDER("bleeding_disorder", CautionGroup.HEALTH),
    DIABETES("diabetes", CautionGroup.HEALTH),
    IMMUNOCOMPROMISED("immunocompromised", CautionGroup.HEALTH),
    RADIOTHERAPY("radiotherapy", CautionGroup.HEALTH),
    CANAL_NARROWING("canal_narrowing", CautionGroup.EAR),
    EXOSTOSES("exostoses", CautionGroup.EAR),
    CANNOT_KEEP_STILL("cannot_keep_still", CautionGroup.HEALTH),
    NEEDS_SUPPORT("needs_support", CautionGroup.HEALTH),
    SOFTENER_ALLERGY("softener_allergy", CautionGroup.HEALTH),
    INJURY_LATELY("injury_lately", CautionGroup.EAR, Period.ofWeeks(6)),
    PAIN_OR_DISCHARGE_NOW("pain_or_discharge_now", CautionGroup.EAR, Period.ofWeeks(6)),
    EAR_IMPLANT("ear_implant", CautionGroup.DRUM),
    STAPES_SURGERY("stapes_surgery", CautionGroup.DRUM),
    RECENT_EAR_SURGERY("recent_ear_surgery", CautionGroup.DRUM, Period.ofWeeks(6)),
    KERATOSIS_OBTURANS("keratosis_obturans", CautionGroup.EAR),
    CANAL_SKIN_DISEASE("canal_skin_disease", CautionGroup.EAR),
    VERTIGO_HISTORY("vertigo_history", CautionGroup.HEARING),
    CAPACITY_TO_CONSENT("capacity_to_consent", CautionGroup.HEALTH),
    SEVERE_ANXIETY("severe_anxiety", CautionGroup.HEARING),
    INFECTION_CONTROL("infection_control", CautionGroup.HEALTH),
    CANNOT_BE_POSITIONED("cannot_be_positioned", CautionGroup.HEALTH),
    LATEX_ALLERGY("latex_allergy", CautionGroup.HEALTH);

    private final String code;
    private final CautionGroup group;
    private final Optional<Period> passesAfter;

    Caution(String code, CautionGroup group) {
        this(code, group, Optional.empty());
    }

    Caution(String code, CautionGroup group, Period passesAfter) {
        this(code, group, Optional.of(passesAfter));
    }

    Caution(String code, CautionGroup group, Optional<Period> passesAfter) {
        this.code = code;
        this.group = group;
        this.passesAfter = passesAfter;
    }

    @Override
    public String code() {
        return code;
    }

    /** Under which heading it is asked. */
    public CautionGroup group() {
        return group;
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
