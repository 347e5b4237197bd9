package org.earslot.clinic;

import jakarta.persistence.CascadeType;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OrderBy;
import java.time.Instant;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** Places worked out for a weekly session: not appointments, but where those of each kind are best booked. */
@Entity
public class SessionTemplate {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID weeklySessionId;
    private String madeBy;
    private Instant madeAt;
    private @Nullable Instant withdrawnAt;

    @OneToMany(cascade = CascadeType.ALL, fetch = FetchType.EAGER)
    @JoinColumn(name = "template_id", nullable = false)
    @OrderBy("starts")
    private List<TemplatePlace> places = new ArrayList<>();

    protected SessionTemplate() {}

    SessionTemplate(ClinicId clinicId, UUID weeklySessionId, List<Place> places, String who, Instant at) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.weeklySessionId = weeklySessionId;
        this.madeBy = who;
        this.madeAt = at;
        places.forEach(place -> this.places.add(new TemplatePlace(place)));
    }

    /** One place. */
    public record Place(LocalTime start, int slotMinutes, Method method, Ears ears) {}

    void withdraw(Instant at) {
        withdrawnAt = at;
    }

    public UUID id() {
        return id;
    }

    public UUID weeklySessionId() {
        return weeklySessionId;
    }

    public String madeBy() {
        return madeBy;
    }

    public Instant madeAt() {
        return madeAt;
    }

    /** By their starts. */
    public List<Place> places() {
        return places.stream().map(TemplatePlace::place).toList();
    }
}
