package org.earslot.visit;

import org.earslot.ear.Word;

/** Why a visit does not take what it is told; the words for people stand under {@code VisitRefusal.} and the code. */
public enum VisitRefusal implements Word {
    ALREADY_RECORDED("already-recorded"),
    CALLED_IN_BEFORE_ARRIVED("called-in-before-arrived"),
    NOT_CALLED_IN("not-called-in"),
    NOT_FINISHED("not-finished"),
    FINISHED_NOT_AFTER_CALLED_IN("finished-not-after-called-in"),
    READY_BEFORE_FINISHED("ready-before-finished"),
    SPAN_OUT_OF_REASON("span-out-of-reason"),
    WAS_CALLED_IN("was-called-in"),
    NOT_SEEN("not-seen");

    private final String code;

    VisitRefusal(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }
}
