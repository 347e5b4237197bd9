package org.earslot.clinic;

import jakarta.persistence.Convert;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** Who removes wax: the methods held and the dominant hand. */
@Entity
public class Practitioner {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String name;
    private @Nullable Ear dominantHand;

    @Convert(converter = WordCodes.MethodsCode.class)
    private Set<Method> methods;

    private boolean active;
    private @Nullable Integer leastAge;
    private @Nullable Integer mostAge;

    @Version
    private int version;

    protected Practitioner() {}

    public Practitioner(UUID id, ClinicId clinicId, String name, @Nullable Ear dominantHand, Set<Method> methods) {
        this.id = id;
        this.clinicId = clinicId;
        this.name = name;
        this.dominantHand = dominantHand;
        this.methods = Set.copyOf(methods);
        this.active = true;
    }

    /** Changes what is known of the practitioner. */
    public void amend(String newName, @Nullable Ear hand, Set<Method> held, boolean stillActive) {
        name = newName;
        dominantHand = hand;
        methods = Set.copyOf(held);
        active = stillActive;
    }

    public int version() {
        return version;
    }

    /** Sees these ages only. */
    public void see(AgeRange ages) {
        leastAge = ages.least();
        mostAge = ages.most();
    }

    /** The ages seen. */
    public AgeRange ages() {
        return new AgeRange(leastAge, mostAge);
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public String name() {
        return name;
    }

    /** The side of the dominant hand, if known. */
    public Optional<Ear> dominantHand() {
        return Optional.ofNullable(dominantHand);
    }

    public Set<Method> methods() {
        return methods;
    }

    public boolean active() {
        return active;
    }
}
