package org.earslot.account;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.context.event.EventListener;
import org.springframework.data.domain.Limit;
import org.springframework.data.domain.PageRequest;
import org.springframework.data.domain.Slice;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Keeps what the rooms announce: in the announcer's own transaction, so that neither is kept without the other. */
@Service
public class AuditTrail {

    /** Who acts if nobody has signed in: this program, of its own accord. */
    static final String NOBODY = "(system)";

    private static final int PAGE = 100;
    private static final Instant FIRST = Instant.parse("1970-01-01T00:00:00Z");
    private static final Instant LAST = Instant.parse("9999-01-01T00:00:00Z");

    private final AuditEntries entries;
    private final ClinicClock clinicClock;
    private final Clock clock;
    private final TransactionTemplate joining;
    private final TransactionTemplate apart;

    AuditTrail(AuditEntries entries, ClinicClock clinicClock, Clock clock, PlatformTransactionManager transactions) {
        this.entries = entries;
        this.clinicClock = clinicClock;
        this.clock = clock;
        this.joining = new TransactionTemplate(transactions);
        this.apart = new TransactionTemplate(transactions);
        this.apart.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
    }

    @EventListener
    void keep(Audited done) {
        String who = AuthenticatedClinic.ifKnown()
                .map(SignedInUser::name)
                .or(() -> Optional.ofNullable(done.actor()))
                .orElse(NOBODY);
        AuditEntry entry = new AuditEntry(done, who, clock.instant());
        // A view is announced while reading, and a transaction that only reads would drop or refuse the line.
        boolean reading = TransactionSynchronizationManager.isCurrentTransactionReadOnly();
        (reading ? apart : joining).executeWithoutResult(transaction -> entries.save(entry));
    }

    /** Which lines to show: a day of the clinic, and texts that match exactly; null and empty let everything through. */
    public record Choice(@Nullable LocalDate day, String who, String subjectKind, String subjectId) {}

    /** The lines chosen, latest first, {@code page} counted from 0. */
    @Transactional(readOnly = true)
    public Slice<AuditEntry> latest(ClinicId clinicId, Choice choice, int page) {
        return entries.latest(
                clinicId,
                from(clinicId, choice),
                to(clinicId, choice),
                choice.who(),
                choice.subjectKind(),
                choice.subjectId(),
                PageRequest.of(page, PAGE));
    }

    /** Hands on all lines chosen, one by one, in the order in which they were kept. */
    @Transactional(readOnly = true)
    public void each(ClinicId clinicId, Choice choice, Consumer<AuditEntry> reader) {
        try (Stream<AuditEntry> chosen = entries.inOrder(
                clinicId,
                from(clinicId, choice),
                to(clinicId, choice),
                choice.who(),
                choice.subjectKind(),
                choice.subjectId())) {
            chosen.forEach(reader);
        }
    }

    /**
     * The lines that concern any of these patients, latest first, at most {@code most}.
     *
     * @param patients the records of one person
     */
    @Transactional(readOnly = true)
    public List<AuditEntry> about(ClinicId clinicId, Collection<UUID> patients, Choice choice, int most) {
        return entries.about(
                clinicId, patients, from(clinicId, choice), to(clinicId, choice), choice.who(), Limit.of(most));
    }

    /** The patients that each of these lines concerns, by the line's id. */
    @Transactional(readOnly = true)
    public Map<Long, Set<UUID>> patients(Collection<AuditEntry> lines) {
        return lines.isEmpty()
                ? Map.of()
                : entries.concerned(lines.stream().map(AuditEntry::id).toList()).stream()
                        .collect(Collectors.groupingBy(
                                AuditEntries.Concerned::entryId,
                                Collectors.mapping(AuditEntries.Concerned::patientId, Collectors.toSet())));
    }

    private Instant from(ClinicId clinicId, Choice choice) {
        return choice.day() == null ? FIRST : clinicClock.at(clinicId, choice.day(), LocalTime.MIDNIGHT);
    }

    private Instant to(ClinicId clinicId, Choice choice) {
        return choice.day() == null
                ? LAST
                : clinicClock.at(clinicId, choice.day().plusDays(1), LocalTime.MIDNIGHT);
    }
}
