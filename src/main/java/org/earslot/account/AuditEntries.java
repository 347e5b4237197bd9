package org.earslot.account;

import java.time.Instant;
import java.util.UUID;
import java.util.stream.Stream;
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
            UUID clinicId, Instant from, Instant to, String who, String kind, String subject, Pageable page);

    @Query(CHOSEN)
    Stream<AuditEntry> inOrder(UUID clinicId, Instant from, Instant to, String who, String kind, String subject);
}
