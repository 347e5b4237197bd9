package org.earslot.account;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A person's way in: name, password, role. */
@Entity
public class Account {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String signInName;
    private String displayName;
    private String passwordHash;
    private Role role;
    private @Nullable UUID practitionerId;
    private boolean active;
    private boolean mustChangePassword;
    private @Nullable Instant handedAt;
    private Instant createdAt;

    @Version
    private int version;

    protected Account() {}

    Account(
            UUID id,
            ClinicId clinicId,
            String signInName,
            String displayName,
            String passwordHash,
            Role role,
            @Nullable UUID practitionerId,
            Instant createdAt) {
        this.id = id;
        this.clinicId = clinicId;
        this.signInName = plain(signInName);
        this.displayName = displayName;
        this.passwordHash = passwordHash;
        this.role = role;
        this.practitionerId = practitionerId;
        this.active = true;
        this.createdAt = createdAt;
    }

    /** A sign-in name as it is kept and compared: trimmed, in lower case. */
    static String plain(String signInName) {
        return signInName.strip().toLowerCase(Locale.ROOT);
    }

    /** Takes a password that the person has chosen. */
    void choosePassword(String hash) {
        passwordHash = hash;
        mustChangePassword = false;
        handedAt = null;
    }

    /** Takes a password that someone else has set, which serves for one sign-in only. */
    void handPassword(String hash, Instant now) {
        passwordHash = hash;
        mustChangePassword = true;
        handedAt = now;
    }

    /** Gives the person another role. */
    void assign(Role newRole, @Nullable UUID practitioner) {
        role = newRole;
        practitionerId = practitioner;
    }

    /** Lets the person in no more. */
    void deactivate() {
        active = false;
    }

    /** Lets the person in again. */
    void reactivate() {
        active = true;
    }

    /** Whether a right password lets the person in at {@code now}; one that was handed out serves for {@code handed}. */
    boolean open(Instant now, Duration handed) {
        return active && !handedTooLongAgo(now, handed);
    }

    /** Whether the password was handed out longer ago than {@code handed} and never changed. */
    public boolean handedTooLongAgo(Instant now, Duration handed) {
        return mustChangePassword && handedAt != null && now.isAfter(handedAt.plus(handed));
    }

    /** Whoever signs in with this account. */
    SignedInUser.Person person() {
        return new SignedInUser.Person(id, clinicId, signInName, role, practitionerId, mustChangePassword);
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public String signInName() {
        return signInName;
    }

    public String displayName() {
        return displayName;
    }

    String passwordHash() {
        return passwordHash;
    }

    public Role role() {
        return role;
    }

    public Optional<UUID> practitionerId() {
        return Optional.ofNullable(practitionerId);
    }

    public boolean active() {
        return active;
    }

    public boolean mustChangePassword() {
        return mustChangePassword;
    }

    int version() {
        return version;
    }

    boolean activeLead() {
        return active && role == Role.LEAD;
    }
}
