package org.earslot.booking;

import org.earslot.clinic.Audited;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/** Sessions, rooms, policy and templates stand on every day's screens: where the set-up changes, they look again. */
@Component
class SetUpFollowed {

    private static final String SET_UP = "set-up";

    private final ApplicationEventPublisher events;

    SetUpFollowed(ApplicationEventPublisher events) {
        this.events = events;
    }

    @EventListener
    void follow(Audited done) {
        if (done.subjectKind().equals(SET_UP)) {
            events.publishEvent(new DiaryChanged(done.clinicId()));
        }
    }
}
