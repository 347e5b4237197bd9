package org.earslot.account;

import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import org.earslot.clinic.Audited;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.session.Session;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.event.TransactionPhase;
import org.springframework.transaction.event.TransactionalEventListener;

/** The sessions of a person, on whichever device; they end once a change of what the person may do is stored. */
@Component
public class OpenSessions {

    private final FindByIndexNameSessionRepository<? extends Session> sessions;
    private final ApplicationEventPublisher events;

    OpenSessions(FindByIndexNameSessionRepository<? extends Session> sessions, ApplicationEventPublisher events) {
        this.sessions = sessions;
        this.events = events;
    }

    /**
     * One of a person's sessions.
     *
     * @param own whether it is the one that asks
     */
    public record Open(Instant since, Instant lastUsed, String address, boolean own) {}

    /**
     * The person's sessions, latest sign-in first.
     *
     * @param session the one that asks
     */
    public List<Open> of(SignedInUser.Person person, String session) {
        return sessions.findByPrincipalName(person.name()).values().stream()
                .filter(one -> one.getAttribute(SignInStamp.ATTRIBUTE) != null)
                .map(one -> open(one, one.getId().equals(session)))
                .sorted(Comparator.comparing(Open::since).reversed())
                .toList();
    }

    /**
     * Signs the person out everywhere else.
     *
     * @param session the one that goes on
     */
    @Transactional
    public void endOthers(SignedInUser.Person person, String session) {
        events.publishEvent(new Audited.Entry(
                person.clinicId(),
                "sessions-ended",
                "account",
                person.accountId().toString(),
                person.name()));
        events.publishEvent(new SessionsRevoked(person.name(), session));
    }

    @TransactionalEventListener(phase = TransactionPhase.AFTER_COMMIT, fallbackExecution = true)
    void end(SessionsRevoked ended) {
        for (String id : sessions.findByPrincipalName(ended.signInName()).keySet()) {
            if (!id.equals(ended.exceptSession())) {
                sessions.deleteById(id);
            }
        }
    }

    private static Open open(Session session, boolean own) {
        SignInStamp began = session.getRequiredAttribute(SignInStamp.ATTRIBUTE);
        Instant lastUsed = session.getAttribute(SignInStamp.LAST_USED);
        return new Open(began.at(), lastUsed == null ? began.at() : lastUsed, began.address(), own);
    }
}
