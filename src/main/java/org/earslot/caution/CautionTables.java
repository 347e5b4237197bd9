package org.earslot.caution;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import com.github.benmanes.caffeine.cache.Ticker;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.event.TransactionalEventListener;

/** Each clinic's table of cautions: the program's defaults, with the cells that were changed or signed off here. */
@Service
public class CautionTables {

    static final int MAXIMUM_CLINICS = 1_000;

    /** A change made on another server is seen after this time at the latest. */
    static final Duration READ_AGAIN = Duration.ofSeconds(2);

    private final CautionCells cells;
    private final CautionTableVersions changes;
    private final Practitioners practitioners;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final CautionTable defaults = CautionTable.defaults();
    private final Cache<ClinicId, CautionTable> cache;

    @Autowired
    CautionTables(
            CautionCells cells,
            CautionTableVersions changes,
            Practitioners practitioners,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this(cells, changes, practitioners, clock, events, Ticker.systemTicker());
    }

    CautionTables(
            CautionCells cells,
            CautionTableVersions changes,
            Practitioners practitioners,
            ClinicClock clock,
            ApplicationEventPublisher events,
            Ticker ticker) {
        this.cells = cells;
        this.changes = changes;
        this.practitioners = practitioners;
        this.clock = clock;
        this.events = events;
        cache = Caffeine.newBuilder()
                .maximumSize(MAXIMUM_CLINICS)
                .expireAfterWrite(READ_AGAIN)
                .ticker(ticker)
                .executor(Runnable::run)
                .build();
    }

    /** The table in force. It is read outside the cache, so that nobody waits there for another's connection. */
    public CautionTable of(ClinicId clinicId) {
        CautionTable known = cache.getIfPresent(clinicId);
        if (known != null) {
            return known;
        }
        CautionTable read = read(clinicId);
        cache.put(clinicId, read);
        return read;
    }

    /** The table as it is stored this moment, for whoever is about to change it. */
    public CautionTable stored(ClinicId clinicId) {
        return read(clinicId);
    }

    /**
     * Who signs.
     *
     * @param practitionerId the practitioner whose account it is; null where it is none's, who then cannot sign
     * @param role in the practitioner's own words
     * @param reviewBy the day by which it is to be read again
     */
    public record Signing(@Nullable UUID practitionerId, String role, LocalDate reviewBy) {}

    /**
     * Saves one cell; whoever is a practitioner may sign it off with it, anybody else saves it unsigned.
     *
     * @param rules one or two rules; one with the verdict "no known caution" where there is none
     * @param signing who signs; empty to save it unsigned
     */
    @Transactional
    public Optional<CautionRefusal> settle(
            ClinicId clinicId,
            Caution caution,
            Method method,
            List<CautionRule> rules,
            Optional<Signing> signing,
            String who) {
        Optional<SignOff> signOff = signing.flatMap(by -> signature(clinicId, by));
        if (signing.isPresent() && signOff.isEmpty()) {
            return Optional.of(CautionRefusal.NOT_TO_SIGN);
        }
        replace(clinicId, caution, method, rules, signOff);
        changed(
                clinicId,
                who,
                "caution-cell-settled",
                caution.code() + "/" + method.code(),
                String.join("; ", rules.stream().map(CautionTables::said).toList())
                        + signOff.map(by -> "; signed off by " + by.name()).orElse(""));
        return Optional.empty();
    }

    /**
     * Signs off every cell that is not signed, or is due for review, as it is in the version that was read.
     *
     * @param version the version of the table that was read; another one in force refuses it
     */
    @Transactional
    public Optional<CautionRefusal> signAll(ClinicId clinicId, String version, Signing signing, String who) {
        Optional<SignOff> signOff = signature(clinicId, signing);
        if (signOff.isEmpty()) {
            return Optional.of(CautionRefusal.NOT_TO_SIGN);
        }
        CautionTable table = read(clinicId);
        if (!table.version().equals(version)) {
            return Optional.of(CautionRefusal.TABLE_CHANGED);
        }
        LocalDate today = clock.today(clinicId);
        int signed = 0;
        for (Caution caution : Caution.values()) {
            for (Method method : Method.values()) {
                List<CautionRule> rules = table.rules(caution, method);
                boolean current = !rules.isEmpty()
                        && rules.stream()
                                .allMatch(rule -> rule.signOff()
                                        .filter(by -> !by.due(today))
                                        .isPresent());
                if (!current) {
                    replace(
                            clinicId,
                            caution,
                            method,
                            rules.isEmpty() ? List.of(CautionRule.none(caution, method)) : rules,
                            signOff);
                    signed++;
                }
            }
        }
        changed(
                clinicId,
                who,
                "caution-table-signed-off",
                version,
                signed + " cells signed off by " + signOff.get().name());
        return Optional.empty();
    }

    private Optional<SignOff> signature(ClinicId clinicId, Signing signing) {
        return Optional.ofNullable(signing.practitionerId())
                .flatMap(id -> practitioners.findByClinicIdAndId(clinicId, id))
                .filter(Practitioner::active)
                .map(one -> new SignOff(one.name(), signing.role(), clock.today(clinicId), signing.reviewBy()));
    }

    private void replace(
            ClinicId clinicId, Caution caution, Method method, List<CautionRule> rules, Optional<SignOff> signOff) {
        cells.deleteAll(cells.findByClinicIdAndCautionAndMethod(clinicId, caution, method));
        cells.flush();
        for (int place = 0; place < rules.size(); place++) {
            cells.save(new CautionCell(clinicId, place, rules.get(place).signed(signOff)));
        }
    }

    private void changed(ClinicId clinicId, String who, String action, String what, String detail) {
        CautionChanges counted = changes.findById(clinicId).orElseGet(() -> new CautionChanges(clinicId));
        counted.oneMore(who, clock.now());
        changes.save(counted);
        events.publishEvent(new Audited.Entry(clinicId, action, "set-up", what, detail));
        events.publishEvent(new CautionTableChanged(clinicId));
    }

    @TransactionalEventListener
    void forget(CautionTableChanged changed) {
        cache.invalidate(changed.clinicId());
    }

    private CautionTable read(ClinicId clinicId) {
        List<CautionRule> own = cells.findByClinicIdOrderByPlace(clinicId).stream()
                .flatMap(cell -> cell.rule().stream())
                .toList();
        if (own.isEmpty()) {
            return defaults;
        }
        List<CautionRule> rules = new ArrayList<>();
        for (Caution caution : Caution.values()) {
            for (Method method : Method.values()) {
                List<CautionRule> settled = own.stream()
                        .filter(rule -> rule.caution() == caution && rule.method() == method)
                        .toList();
                rules.addAll(settled.isEmpty() ? defaults.rules(caution, method) : settled);
            }
        }
        int count = changes.findById(clinicId).map(CautionChanges::changes).orElse(0);
        return new CautionTable(defaults.version() + "." + count, rules);
    }

    /** The cell as the program delivers it, beside one that was changed here. */
    public List<CautionRule> delivered(Caution caution, Method method) {
        return defaults.rules(caution, method);
    }

    private static String said(CautionRule rule) {
        return rule.verdict().code()
                + rule.within().map(period -> " within " + period).orElse("") + ", "
                + rule.mark().code();
    }
}
