package org.earslot.estimate;

import java.io.ByteArrayOutputStream;
import java.security.MessageDigest;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.duration.FittedModel;
import org.earslot.duration.predict.ModelCodec;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Stores fits with their models, in parts, and says which one is in force. */
@Component
class SnapshotStore {

    /** A part of the bytes: small enough for any database's packets. */
    static final int PART = 512 * 1024;

    /** Bytes of the seal behind a model. */
    private static final int SEAL = 32;

    /** Of this many of the latest fits the bytes are kept; older ones keep their numbers only. */
    static final int KEPT_WHOLE = 30;

    private final Snapshots snapshots;
    private final JdbcTemplate jdbc;
    private final FitsInUse inUse;
    private final ClinicClock clock;

    SnapshotStore(Snapshots snapshots, JdbcTemplate jdbc, FitsInUse inUse, ClinicClock clock) {
        this.snapshots = snapshots;
        this.jdbc = jdbc;
        this.inUse = inUse;
        this.clock = clock;
    }

    /** Stores a new fit with its model, and puts it in force. */
    @Transactional
    public Snapshot keep(ClinicId clinicId, Snapshot snapshot, FittedModel model) {
        standDown(clinicId);
        snapshot.putInForce();
        Snapshot kept = snapshots.saveAndFlush(snapshot);
        inUse.note(clinicId, clock.now(), kept);
        write(kept, model);
        dropOldBytes(clinicId);
        return kept;
    }

    private void write(Snapshot snapshot, FittedModel model) {
        byte[] written = ModelCodec.write(model);
        byte[] seal = snapshot.seal(written);
        byte[] bytes = Arrays.copyOf(written, written.length + seal.length);
        System.arraycopy(seal, 0, bytes, written.length, seal.length);
        for (int part = 0; (long) part * PART < bytes.length || part == 0; part++) {
            byte[] piece = Arrays.copyOfRange(bytes, part * PART, Math.min(bytes.length, (part + 1) * PART));
            jdbc.update(
                    "insert into estimator_snapshot_part (snapshot_id, part, content) values (?, ?, ?)",
                    snapshot.id(),
                    part,
                    piece);
        }
    }

    /** Stores the model of a fit again, in place of what is damaged or gone. */
    @Transactional
    public void replace(Snapshot snapshot, FittedModel model) {
        jdbc.update("delete from estimator_snapshot_part where snapshot_id = ?", snapshot.id());
        write(snapshot, model);
    }

    /** Puts the fit in force that the same visits have just given again. */
    @Transactional
    public Snapshot again(ClinicId clinicId, Snapshot snapshot) {
        standDown(clinicId);
        Snapshot found = snapshots.findById(snapshot.id()).orElseThrow();
        found.putInForce();
        inUse.note(clinicId, clock.now(), found);
        return found;
    }

    /**
     * The model of a fit; empty if another release stored it in a form that this one does not read.
     *
     * @throws DamagedFit if what is stored is not that model any more
     */
    @Transactional(readOnly = true)
    public Optional<FittedModel> model(Snapshot snapshot) {
        byte[] bytes = bytes(snapshot);
        byte[] model = Arrays.copyOf(bytes, Math.max(0, bytes.length - SEAL));
        boolean sealed =
                MessageDigest.isEqual(snapshot.seal(model), Arrays.copyOfRange(bytes, model.length, bytes.length));
        if (sealed && ModelCodec.canRead(model)) {
            return Optional.of(ModelCodec.read(model, FitChoices.PRIORS));
        }
        if (sealed || !snapshot.computedAsNow()) {
            return Optional.empty();
        }
        throw new DamagedFit(snapshot.version());
    }

    /** Whether the model of a fit can be read. */
    boolean readable(Snapshot snapshot) {
        try {
            return model(snapshot).isPresent();
        } catch (DamagedFit e) {
            return false;
        }
    }

    /**
     * Puts an earlier fit in force; empty if it is not there, or its model is no longer stored or cannot be read.
     *
     * @throws DamagedFit if what is stored is not that model any more
     */
    @Transactional
    public Optional<Snapshot> putInForce(ClinicId clinicId, String version) {
        Optional<Snapshot> wanted = snapshots
                .findByClinicIdAndVersion(clinicId, version)
                .filter(snapshot -> wholeVersions(clinicId).contains(version))
                .filter(snapshot -> model(snapshot).isPresent());
        wanted.ifPresent(snapshot -> {
            standDown(clinicId);
            snapshot.putInForce();
            inUse.note(clinicId, clock.now(), snapshot);
        });
        return wanted;
    }

    /** The stored bytes of a fit: its model, and the seal. */
    @Transactional(readOnly = true)
    public byte[] bytes(Snapshot snapshot) {
        ByteArrayOutputStream whole = new ByteArrayOutputStream();
        jdbc.query(
                "select content from estimator_snapshot_part where snapshot_id = ? order by part",
                row -> {
                    whole.writeBytes(row.getBytes("content"));
                },
                snapshot.id());
        return whole.toByteArray();
    }

    /** The versions one can go back to. */
    List<String> wholeVersions(ClinicId clinicId) {
        return jdbc.queryForList("""
                select s.version from estimator_snapshot s
                where s.clinic_id = ? and exists (select 1 from estimator_snapshot_part p where p.snapshot_id = s.id)
                """, String.class, clinicId.value());
    }

    private void standDown(ClinicId clinicId) {
        snapshots.findByClinicIdAndInForceTrue(clinicId).ifPresent(Snapshot::standDown);
        snapshots.flush();
    }

    private void dropOldBytes(ClinicId clinicId) {
        snapshots.findByClinicIdOrderByFittedAtDesc(clinicId).stream()
                .skip(KEPT_WHOLE)
                .filter(old -> !old.inForce())
                .forEach(old -> jdbc.update("delete from estimator_snapshot_part where snapshot_id = ?", old.id()));
    }
}
