package org.earslot.referral;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.event.TransactionalEventListener;

/** Each clinic's table of cautions: the defaults, with the cells that its lead has settled. */
@Service
public class CautionTables {

    private final CautionCells cells;
    private final CautionTableVersions changes;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final CautionTable defaults = CautionTable.defaults();
    private final Map<UUID, CautionTable> known = new ConcurrentHashMap<>();

    CautionTables(
            CautionCells cells, CautionTableVersions changes, ClinicClock clock, ApplicationEventPublisher events) {
        this.cells = cells;
        this.changes = changes;
        this.clock = clock;
        this.events = events;
    }

    /** The table in force. */
    public CautionTable of(UUID clinicId) {
        return known.computeIfAbsent(clinicId, this::read);
    }

    /**
     * Settles one cell.
     *
     * @param rules one or two rules; one that says "suitable" where nothing is to be minded
     */
    @Transactional
    public void settle(UUID clinicId, Caution caution, Method method, List<CautionRule> rules, String who) {
        cells.deleteAll(cells.findByClinicIdAndCautionAndMethod(clinicId, caution, method));
        cells.flush();
        for (int place = 0; place < rules.size(); place++) {
            cells.save(new CautionCell(clinicId, place, rules.get(place)));
        }
        CautionChanges counted = changes.findById(clinicId).orElseGet(() -> new CautionChanges(clinicId));
        counted.oneMore(who, clock.now());
        changes.save(counted);
        events.publishEvent(new Audited.Entry(
                clinicId,
                "caution-cell-settled",
                "set-up",
                caution.code() + "/" + method.code(),
                String.join("; ", rules.stream().map(CautionTables::said).toList())));
        events.publishEvent(new CautionTableChanged(clinicId));
    }

    @TransactionalEventListener
    void forget(CautionTableChanged changed) {
        known.remove(changed.clinicId());
    }

    private CautionTable read(UUID clinicId) {
        List<CautionRule> own = cells.findByClinicIdOrderByPlace(clinicId).stream()
                .map(CautionCell::rule)
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

    private static String said(CautionRule rule) {
        return rule.verdict().code()
                + rule.within().map(period -> " within " + period).orElse("") + ", "
                + rule.mark().code();
    }
}
