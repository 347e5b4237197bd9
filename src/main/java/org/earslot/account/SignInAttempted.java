package org.earslot.account;

import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/**
 * What happens to an account before anyone has signed in.
 *
 * @param who the person, if known to be them; else {@link #VISITOR}
 */
record SignInAttempted(
        ClinicId clinicId,
        String who,
        String action,
        String subjectKind,
        @Nullable String subjectId,
        String detail) implements Audited {

    static final String VISITOR = "(visitor)";

    private static final String ACCOUNT = "account";

    SignInAttempted(String who, String action, Account account) {
        this(account.clinicId(), who, action, ACCOUNT, account.id().toString(), account.signInName());
    }

    /** A stranger's attempt on an account, from an address. */
    static SignInAttempted refused(String action, Account account, String address) {
        return new SignInAttempted(
                account.clinicId(),
                VISITOR,
                action,
                ACCOUNT,
                account.id().toString(),
                account.signInName() + ", from " + address);
    }

    /** An attempt under a name that nobody has; the name is not recorded, as people type passwords there. */
    static SignInAttempted unknown(ClinicId clinicId, String address) {
        return new SignInAttempted(
                clinicId, VISITOR, "sign-in-refused", ACCOUNT, null, "unknown name, from " + address);
    }

    @Override
    public String actor() {
        return who;
    }
}
