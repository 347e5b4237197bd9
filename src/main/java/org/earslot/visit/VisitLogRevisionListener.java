package org.earslot.visit;

import jakarta.persistence.PostPersist;
import jakarta.persistence.PostRemove;
import jakarta.persistence.PostUpdate;
import java.util.List;

/** Notes every change of a stored visit; the import, which writes rows, notes its own. */
class VisitLogRevisionListener {

    private final VisitLogRevision changes;

    VisitLogRevisionListener(VisitLogRevision changes) {
        this.changes = changes;
    }

    @PostPersist
    @PostUpdate
    @PostRemove
    void changed(Visit visit) {
        changes.note(visit.clinicId(), List.of(visit.date()));
    }
}
