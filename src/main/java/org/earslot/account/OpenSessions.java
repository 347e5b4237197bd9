package org.earslot.account;

import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.stereotype.Component;
import org.springframework.transaction.event.TransactionPhase;
import org.springframework.transaction.event.TransactionalEventListener;

/** Ends the sessions of people whose access has changed, once the change is kept. */
@Component
class OpenSessions {

    private final FindByIndexNameSessionRepository<?> sessions;

    OpenSessions(FindByIndexNameSessionRepository<?> sessions) {
        this.sessions = sessions;
    }

    @TransactionalEventListener(phase = TransactionPhase.AFTER_COMMIT, fallbackExecution = true)
    void end(AccessEnded ended) {
        for (String id : sessions.findByPrincipalName(ended.signInName()).keySet()) {
            if (!id.equals(ended.exceptSession())) {
                sessions.deleteById(id);
            }
        }
    }
}
