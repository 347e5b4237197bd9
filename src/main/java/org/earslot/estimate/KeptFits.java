package org.earslot.estimate;

import java.io.ByteArrayOutputStream;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Keeps fits with the table they ran on, in parts, and says which one is in force. */
@Component
class KeptFits {

    /** A part of the bytes: small enough for any database's packets. */
    static final int PART = 512 * 1024;

    /** Of this many of the latest fits the bytes are kept; older ones keep their numbers only. */
    static final int KEPT_WHOLE = 30;

    private final Snapshots snapshots;
    private final JdbcTemplate jdbc;

    KeptFits(Snapshots snapshots, JdbcTemplate jdbc) {
        this.snapshots = snapshots;
        this.jdbc = jdbc;
    }

    /** Keeps a new fit with its bytes, and puts it in force. */
    @Transactional
    public Snapshot keep(UUID clinicId, Snapshot snapshot, byte[] bytes) {
        standDown(clinicId);
        snapshot.putInForce();
        Snapshot kept = snapshots.saveAndFlush(snapshot);
        for (int part = 0; (long) part * PART < bytes.length || part == 0; part++) {
            byte[] piece = Arrays.copyOfRange(bytes, part * PART, Math.min(bytes.length, (part + 1) * PART));
            jdbc.update(
                    "insert into estimator_snapshot_part (snapshot_id, part, content) values (?, ?, ?)",
                    kept.id(),
                    part,
                    piece);
        }
        dropOldBytes(clinicId);
        return kept;
    }

    /** Puts an earlier fit in force; empty where it is not there, or its bytes are no longer kept. */
    @Transactional
    public Optional<Snapshot> putInForce(UUID clinicId, String version) {
        Optional<Snapshot> wanted = snapshots
                .findByClinicIdAndVersion(clinicId, version)
                .filter(snapshot -> wholeVersions(clinicId).contains(version));
        wanted.ifPresent(snapshot -> {
            standDown(clinicId);
            snapshot.putInForce();
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
