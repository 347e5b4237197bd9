package org.earslot.account.web;

import org.earslot.page.Problem;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** The wording of this room's messages. */
@Component
class Wording {

    private final MessageSource messages;

    Wording(MessageSource messages) {
        this.messages = messages;
    }

    String say(String key, Object... arguments) {
        return messages.getMessage(key, arguments, LocaleContextHolder.getLocale());
    }

    /** A problem with the field labelled {@code account.FIELD}, its words under {@code account.problem.WHAT}. */
    Problem problem(String field, String given, String what) {
        return new Problem(
                say("account." + field),
                given,
                say("account.problem." + what + ".allowed"),
                say("account.problem." + what + ".remedy"));
    }
}
