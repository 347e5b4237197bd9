package org.earslot.account;

import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicId;
import org.springframework.data.domain.Limit;
import org.springframework.data.domain.Pageable;
import org.springframework.data.domain.Slice;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The lines of the audit trail; an empty text of a filter lets everything through. */
interface AuditEntries extends JpaRepository<AuditEntry, Long> {

    String CHOSEN = """
            select entry from AuditEntry entry
            where entry.clinicId = :clinicId and entry.at >= :from and entry.at < :to
              and (:who = '' or entry.who = :who)
              and (:kind = '' or entry.subjectKind = :kind)
              and (:subject = '' or entry.subjectId = :subject)
            order by entry.id""";

    @Query(CHOSEN + " desc")
    Slice<AuditEntry> latest(
            ClinicId clinicId, Instant from, Instant to, String who, String kind, String subject, Pageable page);

    @Query(CHOSEN)
    Stream<AuditEntry> inOrder(ClinicId clinicId, Instant from, Instant to, String who, String kind, String subject);

    /** The lines that concern any of these patients, latest first. */
    @Query("""
            select distinct entry from AuditEntry entry join entry.patients patient
            where entry.clinicId = :clinicId and patient in :patients and entry.at >= :from and entry.at < :to
              and (:who = '' or entry.who = :who)
            order by entry.id desc""")
    List<AuditEntry> about(
            ClinicId clinicId, Collection<UUID> patients, Instant from, Instant to, String who, Limit limit);

    /** One of the patients that a line concerns. */
    record Concerned(Long entryId, UUID patientId) {}

    @Query("select new org.earslot.account.AuditEntries$Concerned(entry.id, patient)"
            + " from AuditEntry entry join entry.patients patient where entry.id in :entries")
    List<Concerned> concerned(Collection<Long> entries);
}
