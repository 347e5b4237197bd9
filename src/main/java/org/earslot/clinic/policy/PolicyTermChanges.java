package org.earslot.clinic.policy;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.earslot.clinic.ClinicId;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;

/** When each term of a policy was changed, from what to what: so that later figures can be read beside it. */
@Repository
public class PolicyTermChanges {

    /** Leads the name of a term that is the minutes which slots of a kind are given beyond their estimates. */
    public static final String SLOT = "slot.";

    private final JdbcTemplate database;

    PolicyTermChanges(JdbcTemplate database) {
        this.database = database;
    }

    /** @param term by the name it has in {@link PolicyTerms} or {@link ListCosts} */
    public record Change(Instant at, String term, double before, double after) {}

    /** Keeps every term that differs. */
    public void note(ClinicId clinicId, Instant at, Map<String, Double> before, Map<String, Double> after) {
        after.forEach((term, value) -> {
            Double was = before.get(term);
            if (was != null && !was.equals(value)) {
                database.update(
                        "insert into policy_term_change (clinic_id, changed_at, term, value_before, value_after)"
                                + " values (?, ?, ?, ?, ?)",
                        clinicId.value(),
                        at.atOffset(ZoneOffset.UTC),
                        term,
                        was,
                        value);
            }
        });
    }

    /** All changes before {@code end}, the earliest first. */
    public List<Change> before(ClinicId clinicId, Instant end) {
        return read("clinic_id = ? and changed_at < ?", clinicId.value(), end.atOffset(ZoneOffset.UTC));
    }

    private List<Change> read(String which, Object... values) {
        return database.query(
                "select changed_at, term, value_before, value_after from policy_term_change where " + which
                        + " order by changed_at, id",
                (row, number) -> new Change(
                        row.getObject(1, OffsetDateTime.class).toInstant(),
                        row.getString(2),
                        row.getDouble(3),
                        row.getDouble(4)),
                values);
    }

    /**
     * What the terms of {@code now} were at an instant from {@code first} on: each later change undone. Minutes that slots of
     * a kind are given beyond their estimates are left as they are now, since a visit carries the slot it got.
     */
    public Function<Instant, PolicyTerms> past(Policy now, Instant first) {
        List<Change> later =
                read("clinic_id = ? and changed_at >= ?", now.clinicId().value(), first.atOffset(ZoneOffset.UTC));
        return at -> {
            Map<String, Double> values = of(now);
            for (int i = later.size() - 1; i >= 0 && !later.get(i).at().isBefore(at); i--) {
                values.put(later.get(i).term(), later.get(i).before());
            }
            return terms(values, now.terms().slotAdjustments());
        };
    }

    private static PolicyTerms terms(Map<String, Double> values, SlotAdjustments slots) {
        return new PolicyTerms(
                values.get("gridMinutes").intValue(),
                values.get("acceptedOverrunShare"),
                values.get("acceptedOvertimeShare"),
                values.get("leastSlotMinutes").intValue(),
                values.get("mostSlotMinutes").intValue(),
                values.get("waitLimitMinutes").intValue(),
                values.get("earlyAllowanceMinutes").intValue(),
                values.get("irrigationTurnaroundMinutes").intValue(),
                values.get("microsuctionTurnaroundMinutes").intValue(),
                values.get("manualRemovalTurnaroundMinutes").intValue(),
                values.get("tenDaysSoonerMinutes").intValue(),
                slots);
    }

    /** Every term of a policy by its name. */
    public static Map<String, Double> of(Policy policy) {
        PolicyTerms terms = policy.terms();
        ListCosts costs = policy.costs();
        Map<String, Double> values = new LinkedHashMap<>();
        values.put("gridMinutes", (double) terms.gridMinutes());
        values.put("acceptedOverrunShare", terms.acceptedOverrunShare());
        values.put("acceptedOvertimeShare", terms.acceptedOvertimeShare());
        values.put("leastSlotMinutes", (double) terms.leastSlotMinutes());
        values.put("mostSlotMinutes", (double) terms.mostSlotMinutes());
        values.put("waitLimitMinutes", (double) terms.waitLimitMinutes());
        values.put("earlyAllowanceMinutes", (double) terms.earlyAllowanceMinutes());
        values.put("irrigationTurnaroundMinutes", (double) terms.irrigationTurnaroundMinutes());
        values.put("microsuctionTurnaroundMinutes", (double) terms.microsuctionTurnaroundMinutes());
        values.put("manualRemovalTurnaroundMinutes", (double) terms.manualRemovalTurnaroundMinutes());
        values.put("tenDaysSoonerMinutes", (double) terms.tenDaysSoonerMinutes());
        values.put("waitMinute", costs.waitMinute());
        values.put("idleMinute", costs.idleMinute());
        values.put("overtimeMinute", costs.overtimeMinute());
        for (SlotKind kind : SlotKind.all()) {
            values.put(SLOT + kind.code(), (double) terms.slotAdjustments().of(kind));
        }
        return values;
    }
}
