package org.earslot.account.web;

import org.earslot.account.OwnPassword;
import org.earslot.account.SignedInUser;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;

/** Asks a person for the own password again, before something is made that lets others in. */
@Component
class OwnPasswordCheck {

    private final OwnPassword passwords;

    OwnPasswordCheck(OwnPassword passwords) {
        this.passwords = passwords;
    }

    /** Refuses a wrong one; not looked at while other problems are open, as each look counts. */
    void check(Checks checks, String given) {
        if (!checks.problems().isEmpty()) {
            return;
        }
        var asker = SecurityContextHolder.getContext().getAuthentication();
        boolean right = asker != null
                && asker.getPrincipal() instanceof SignedInUser.Person person
                && passwords.confirm(person, given);
        if (!right) {
            checks.problem("ownPassword", "", "ownPassword");
        }
    }
}
