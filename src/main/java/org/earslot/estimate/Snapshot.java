package org.earslot.estimate;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.HexFormat;
import java.util.UUID;
import org.apache.commons.codec.digest.DigestUtils;
import org.earslot.clinic.ClinicId;

/** A stored fit: what it rests on, how good it was, and whether estimates use it now. */
@Entity
@Table(name = "estimator_snapshot")
public class Snapshot {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String version;
    private Instant fittedAt;
    private String settings;
    private int visits;

    private int stoppedEarly;

    private double seconds;
    private String scores;
    private String learnt;
    private String contentHash;
    private boolean inForce;

    protected Snapshot() {}

    Snapshot(ClinicId clinicId, String version, Instant fittedAt, FitChoices choices, Fitted fitted) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.version = version;
        this.fittedAt = fittedAt;
        this.settings = choices.text();
        this.visits = fitted.visits();
        this.stoppedEarly = fitted.stoppedEarly();
        this.seconds = fitted.seconds();
        this.scores = fitted.scores().text();
        this.learnt = fitted.learnt().text();
        this.contentHash = fitted.contentHash();
        this.inForce = false;
    }

    /** What a fit came to. */
    record Fitted(
            int visits, int stoppedEarly, double seconds, FitScores scores, ModelReport learnt, String contentHash) {}

    UUID id() {
        return id;
    }

    public String version() {
        return version;
    }

    public Instant fittedAt() {
        return fittedAt;
    }

    /** The hash of a fit: of the choices as stored, and of the hash of the table. */
    static String hash(String choices, byte[] table) {
        MessageDigest digest = DigestUtils.getSha256Digest();
        digest.update(choices.getBytes(StandardCharsets.UTF_8));
        return HexFormat.of().formatHex(digest.digest(table));
    }

    /** A hash that binds a model to this fit: of the choices, the fit's own hash and the model's bytes. */
    byte[] seal(byte[] model) {
        MessageDigest digest = DigestUtils.getSha256Digest();
        digest.update(settings.getBytes(StandardCharsets.UTF_8));
        digest.update(contentHash.getBytes(StandardCharsets.UTF_8));
        return digest.digest(model);
    }

    /** Whether this release makes the same model of the same visits as the one that made the fit. */
    public boolean computedAsNow() {
        return choices().computedAsNow();
    }

    FitChoices choices() {
        return FitChoices.read(settings);
    }

    public int visits() {
        return visits;
    }

    public int stoppedEarly() {
        return stoppedEarly;
    }

    public double seconds() {
        return seconds;
    }

    public FitScores scores() {
        return FitScores.read(scores);
    }

    public ModelReport learnt() {
        return ModelReport.read(learnt);
    }

    public String contentHash() {
        return contentHash;
    }

    public boolean inForce() {
        return inForce;
    }

    /** The estimates rest on it from now on. */
    void putInForce() {
        inForce = true;
    }

    /** Another one takes its place. */
    void standDown() {
        inForce = false;
    }
}
