package org.earslot.account;

import java.util.UUID;
import org.earslot.clinic.Audited;

/**
 * What happens to an account before anyone has signed in.
 *
 * @param who the person, where known to be them; else {@link #VISITOR}
 */
record AtTheDoor(UUID clinicId, String who, String action, String subjectId, String detail) implements Audited {

    static final String VISITOR = "(visitor)";

    AtTheDoor(String who, String action, Account account) {
        this(account.clinicId(), who, action, account.id().toString(), account.signInName());
    }

    @Override
    public String subjectKind() {
        return "account";
    }
}
