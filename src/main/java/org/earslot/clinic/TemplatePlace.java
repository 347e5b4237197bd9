package org.earslot.clinic;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import java.time.LocalTime;
import java.util.UUID;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;

/** A place of a {@link SessionTemplate} as it is stored. */
@Entity
@Table(name = "session_template_place")
class TemplatePlace {

    @Id
    private UUID id;

    private LocalTime starts;
    private int slotMinutes;
    private Method method;
    private Ears ears;

    protected TemplatePlace() {}

    TemplatePlace(SessionTemplate.Place place) {
        this.id = UUID.randomUUID();
        this.starts = place.start();
        this.slotMinutes = place.slotMinutes();
        this.method = place.method();
        this.ears = place.ears();
    }

    SessionTemplate.Place place() {
        return new SessionTemplate.Place(starts, slotMinutes, method, ears);
    }
}
