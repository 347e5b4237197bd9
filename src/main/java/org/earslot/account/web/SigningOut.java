package org.earslot.account.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.earslot.account.SignedInUser;
import org.earslot.clinic.Audited;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.authentication.logout.LogoutHandler;

/** Records that a person has signed out. */
record SigningOut(ApplicationEventPublisher events) implements LogoutHandler {

    @Override
    public void logout(
            HttpServletRequest request, HttpServletResponse response, @Nullable Authentication authentication) {
        if (authentication != null && authentication.getPrincipal() instanceof SignedInUser.Person person) {
            events.publishEvent(new Audited.Entry(
                    person.clinicId(),
                    "signed-out",
                    "account",
                    person.accountId().toString(),
                    person.name()));
        }
    }
}
