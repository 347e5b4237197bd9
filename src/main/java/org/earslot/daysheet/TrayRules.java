package org.earslot.daysheet;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.daysheet.TrayRule.When;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What each clinic lays out. Until the lead changes a rule the clinic goes by common practice (no source): what every
 * method needs, and instruments in the hand by what was reported. That forceps stay in the outer third of the canal is a
 * teaching rule of low authority. Water and suction have no instruments of their own there.
 */
@Service
public class TrayRules {

    private static final String CURETTE = "open-ended curette";
    private static final String HOOK = "hook; forceps in the outer third only";
    private static final String ALWAYS = "specula, light or loupes, apron, tissues";
    private static final String LONG = "long steel";
    private static final String FINE = "fine instruments";

    private final StoredTrayRules stored;
    private final TrayPolicies policies;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    TrayRules(StoredTrayRules stored, TrayPolicies policies, ClinicClock clock, ApplicationEventPublisher events) {
        this.stored = stored;
        this.policies = policies;
        this.clock = clock;
        this.events = events;
    }

    /** The clinic's rules, in their order. */
    @Transactional(readOnly = true)
    public List<TrayRule> of(ClinicId clinicId) {
        return policies.existsById(clinicId) ? stored.findByClinicIdOrderByPlace(clinicId) : common(clinicId);
    }

    /** What {@code rules} say to lay out, each thing once. */
    static List<String> trays(List<TrayRule> rules, Method method, Collection<EarFindings> ears) {
        return rules.stream()
                .filter(rule -> rule.holds(method, ears))
                .map(TrayRule::tray)
                .distinct()
                .toList();
    }

    /** Adds a rule of the clinic's own, as the last. */
    @Transactional
    public void add(ClinicId clinicId, When when, String tray) {
        List<TrayRule> rules = settled(clinicId);
        int last = rules.stream().mapToInt(TrayRule::place).max().orElse(0);
        TrayRule added = stored.save(new TrayRule(clinicId, last + 1, when, tray, false));
        announce(clinicId, "tray-rule-added", added.id());
    }

    /** Changes the rule at that place of the list, as the clinic's rules stand; whether there is one. */
    @Transactional
    public boolean amend(ClinicId clinicId, int place, When when, String tray) {
        Optional<TrayRule> rule = at(clinicId, place);
        rule.ifPresent(known -> {
            known.amend(when, tray);
            announce(clinicId, "tray-rule-changed", known.id());
        });
        return rule.isPresent();
    }

    /** Takes the rule at that place of the list away; whether there is one. */
    @Transactional
    public boolean remove(ClinicId clinicId, int place) {
        Optional<TrayRule> rule = at(clinicId, place);
        rule.ifPresent(known -> {
            stored.delete(known);
            announce(clinicId, "tray-rule-removed", known.id());
        });
        return rule.isPresent();
    }

    /** Goes by common practice again. */
    @Transactional
    public void backToCommonPractice(ClinicId clinicId) {
        stored.deleteByClinicId(clinicId);
        policies.deleteById(clinicId);
        announce(clinicId, "tray-rules-reset", clinicId);
    }

    private Optional<TrayRule> at(ClinicId clinicId, int place) {
        return settled(clinicId).stream().filter(rule -> rule.place() == place).findFirst();
    }

    /** The clinic's own rules; at the first change those of common practice become them. */
    private List<TrayRule> settled(ClinicId clinicId) {
        if (!policies.existsById(clinicId)) {
            policies.save(new TrayPolicy(clinicId, clock.now()));
            stored.saveAllAndFlush(common(clinicId));
        }
        return stored.findByClinicIdOrderByPlace(clinicId);
    }

    private static List<TrayRule> common(ClinicId clinicId) {
        List<TrayRule> rules = new ArrayList<>();
        common(rules, clinicId, wax(Wax.LOOSE), CURETTE);
        common(rules, clinicId, wax(Wax.STICKY), CURETTE);
        common(rules, clinicId, wax(Wax.FIRM), HOOK);
        common(rules, clinicId, wax(Wax.HARD), HOOK);
        common(rules, clinicId, new When(Method.MANUAL_REMOVAL, null, null, Depth.DEEP_CANAL), LONG);
        common(rules, clinicId, new When(Method.MANUAL_REMOVAL, null, null, Depth.AGAINST_DRUM), LONG);
        common(rules, clinicId, new When(Method.MANUAL_REMOVAL, null, Canal.NARROW, null), FINE);
        common(rules, clinicId, new When(Method.MANUAL_REMOVAL, null, Canal.VERY_NARROW, null), FINE);
        for (Method method : Method.values()) {
            common(rules, clinicId, new When(method, null, null, null), ALWAYS);
        }
        return rules;
    }

    private static When wax(Wax wax) {
        return new When(Method.MANUAL_REMOVAL, wax, null, null);
    }

    private static void common(List<TrayRule> rules, ClinicId clinicId, When when, String tray) {
        rules.add(new TrayRule(clinicId, rules.size() + 1, when, tray, true));
    }

    private void announce(ClinicId clinicId, String action, Object subject) {
        events.publishEvent(new Audited.Entry(clinicId, action, "set-up", subject.toString(), null));
    }
}
