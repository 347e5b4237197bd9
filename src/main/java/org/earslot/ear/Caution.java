package org.earslot.ear;

import java.util.Optional;

/** A circumstance that limits how wax may be taken out. */
public enum Caution implements Word {
    PERFORATION("perforation"),
    GROMMET("grommet"),
    HEALED_PERFORATION("healed_perforation"),
    EAR_SURGERY("ear_surgery"),
    MASTOID_CAVITY("mastoid_cavity"),
    MIDDLE_EAR_INFECTION("middle_ear_infection"),
    MUCUS_DISCHARGE("mucus_discharge"),
    OTITIS_EXTERNA("otitis_externa"),
    RECURRENT_OTITIS_EXTERNA("recurrent_otitis_externa"),
    RETRACTION_POCKET("retraction_pocket"),
    CHOLESTEATOMA("cholesteatoma"),
    CLEFT_PALATE("cleft_palate"),
    FOREIGN_BODY("foreign_body"),
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
    SOFTENER_ALLERGY("softener_allergy");

    private final String code;

    Caution(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Caution> of(String code) {
        return Word.find(values(), code);
    }
}
