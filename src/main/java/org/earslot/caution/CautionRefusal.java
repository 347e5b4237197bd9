package org.earslot.caution;

import org.earslot.page.Reason;

/** Why a caution or the table of cautions is not changed. */
public enum CautionRefusal implements Reason {
    /** The patient has none such, or it was corrected already. */
    NO_SUCH_CAUTION("not-found", "caution.refused.none"),
    /** Only a practitioner of the clinic says what a caution is. */
    NO_PRACTITIONER("no-practitioner", "caution.refused.practitioner"),
    /** Only a practitioner of the clinic signs. */
    NOT_TO_SIGN("no-practitioner", "caution.refused.noPractitioner"),
    TABLE_CHANGED("table-changed", "caution.refused.tableChanged");

    private final String code;
    private final String messageKey;

    CautionRefusal(String code, String messageKey) {
        this.code = code;
        this.messageKey = messageKey;
    }

    @Override
    public String code() {
        return code;
    }

    @Override
    public Kind kind() {
        return this == NO_SUCH_CAUTION ? Kind.ABSENT : Kind.CONFLICT;
    }

    @Override
    public String field() {
        return this == NO_SUCH_CAUTION ? "caution" : "";
    }

    @Override
    public String messageKey() {
        return messageKey;
    }
}
