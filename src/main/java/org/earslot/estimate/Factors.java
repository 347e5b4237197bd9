package org.earslot.estimate;

import java.util.Set;

/** The names under which the estimator knows what there is to know of a visit, and the words for them on screens. */
final class Factors {

    static final String FIRST_VISIT = "first_visit";
    static final String HEARING_AID = "hearing_aid";
    static final String WAX = "wax";
    static final String CANAL = "canal";
    static final String DEPTH = "depth";
    static final String OCCLUSION = "occlusion";
    static final String SOFTENER = "softener";
    static final String FAR = "far";
    static final String SIDE = "side";
    static final String CHANGE = "change";

    private static final String CAUTION = "caution.";

    private static final Set<String> WORDED =
            Set.of(FIRST_VISIT, HEARING_AID, WAX, CANAL, DEPTH, OCCLUSION, SOFTENER, FAR, SIDE, CHANGE);

    private Factors() {}

    /** The factor of a caution, by its code. */
    static String caution(String code) {
        return CAUTION + code;
    }

    /** The messages a factor shares: its own name, {@code caution}, or {@code other}. */
    static String family(String factor) {
        return factor.startsWith(CAUTION) ? "caution" : WORDED.contains(factor) ? factor : "other";
    }

    /** Who can answer a question about it. */
    static WhoCanAnswer whoCanAnswer(String factor) {
        return switch (factor) {
            case WAX, CANAL, OCCLUSION -> WhoCanAnswer.REFERRER;
            case DEPTH, CHANGE, FAR, SIDE -> WhoCanAnswer.PRACTITIONER;
            default -> WhoCanAnswer.PATIENT;
        };
    }

    /** The message key of the factor's word. */
    static String subjectWord(String factor) {
        return factor.startsWith(CAUTION)
                ? "Caution." + factor.substring(CAUTION.length())
                : "estimate.factor." + factor;
    }

    /** The message key of a level's word; an empty level is not known. */
    static String levelWord(String factor, String level) {
        return switch (factor) {
            case WAX -> "Wax." + level;
            case CANAL -> "Canal." + level;
            case DEPTH -> "Depth." + level;
            case OCCLUSION -> "Occlusion." + level;
            case SOFTENER, CHANGE -> "estimate." + factor + "." + level;
            default -> "Answer." + level;
        };
    }
}
