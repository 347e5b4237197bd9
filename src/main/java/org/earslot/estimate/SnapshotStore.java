package org.earslot.estimate;

import java.io.ByteArrayOutputStream;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.duration.table.VisitRow;
import org.earslot.page.LoggedFailure;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Keeps fits with the table they ran on, in parts, and says which one is in force. */
@Component
class SnapshotStore {

    private static final Logger LOG = LoggerFactory.getLogger(SnapshotStore.class);

    /** A part of the bytes: small enough for any database's packets. */
    static final int PART = 512 * 1024;

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

    /** Keeps a new fit with its bytes, and puts it in force. */
    @Transactional
    public Snapshot keep(UUID clinicId, Snapshot snapshot, byte[] bytes) {
        standDown(clinicId);
        snapshot.putInForce();
        Snapshot kept = snapshots.saveAndFlush(snapshot);
        inUse.note(clinicId, clock.now(), kept);
        write(kept, bytes);
        dropOldBytes(clinicId);
        return kept;
    }

    private void write(Snapshot snapshot, byte[] bytes) {
        for (int part = 0; (long) part * PART < bytes.length || part == 0; part++) {
            byte[] piece = Arrays.copyOfRange(bytes, part * PART, Math.min(bytes.length, (part + 1) * PART));
            jdbc.update(
                    "insert into estimator_snapshot_part (snapshot_id, part, content) values (?, ?, ?)",
                    snapshot.id(),
                    part,
                    piece);
        }
    }

    /** Stores the bytes again if what is stored is damaged or gone. @param bytes the table that the fit ran on */
    @Transactional
    public void mend(Snapshot snapshot, byte[] bytes) {
        if (!whole(snapshot)) {
            jdbc.update("delete from estimator_snapshot_part where snapshot_id = ?", snapshot.id());
            write(snapshot, bytes);
        }
    }

    /** Puts the fit in force that the same visits have just given again. */
    @Transactional
    public Snapshot again(UUID clinicId, Snapshot snapshot) {
        standDown(clinicId);
        Snapshot found = snapshots.findById(snapshot.id()).orElseThrow();
        found.putInForce();
        inUse.note(clinicId, clock.now(), found);
        return found;
    }

    /** The table that a fit ran on. @throws DamagedFit where what is kept is not that table any more */
    @Transactional(readOnly = true)
    public List<VisitRow> table(Snapshot snapshot) {
        try {
            TrainingTableCodec.Unpacked unpacked = TrainingTableCodec.unpack(bytes(snapshot));
            if (snapshot.isOf(unpacked.hash())) {
                return unpacked.rows();
            }
        } catch (RuntimeException e) {
            // Damaged bytes break anywhere on the way: as a stream, as a count, as a row out of range.
            LOG.error("The fit {} cannot be read", snapshot.version(), LoggedFailure.of(e));
        }
        throw new DamagedFit(snapshot.version());
    }

    /** Whether the content of a fit is what was kept. */
    boolean whole(Snapshot snapshot) {
        try {
            return !table(snapshot).isEmpty() || snapshot.visits() == 0;
        } catch (DamagedFit e) {
            return false;
        }
    }

    /**
     * Puts an earlier fit in force; empty where it is not there, or its bytes are no longer kept.
     *
     * @throws DamagedFit where its content is not what was kept
     */
    @Transactional
    public Optional<Snapshot> putInForce(UUID clinicId, String version) {
        Optional<Snapshot> wanted = snapshots
                .findByClinicIdAndVersion(clinicId, version)
                .filter(snapshot -> wholeVersions(clinicId).contains(version));
        wanted.ifPresent(snapshot -> {
            table(snapshot);
            standDown(clinicId);
            snapshot.putInForce();
            inUse.note(clinicId, clock.now(), snapshot);
        });
        return wanted;
    }

    /** The bytes of a fit. */
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
    List<String> wholeVersions(UUID clinicId) {
        return jdbc.queryForList("""
                select s.version from estimator_snapshot s
                where s.clinic_id = ? and exists (select 1 from estimator_snapshot_part p where p.snapshot_id = s.id)
                """, String.class, clinicId);
    }

    private void standDown(UUID clinicId) {
        snapshots.findByClinicIdAndInForceTrue(clinicId).ifPresent(Snapshot::standDown);
        snapshots.flush();
    }

    private void dropOldBytes(UUID clinicId) {
        snapshots.findByClinicIdOrderByFittedAtDesc(clinicId).stream()
                .skip(KEPT_WHOLE)
                .filter(old -> !old.inForce())
                .forEach(old -> jdbc.update("delete from estimator_snapshot_part where snapshot_id = ?", old.id()));
    }
}
