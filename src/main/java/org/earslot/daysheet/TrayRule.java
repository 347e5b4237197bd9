package org.earslot.daysheet;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.util.Collection;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.jspecify.annotations.Nullable;

/** What to lay out before a visit, by its method and what was reported of an ear: policy of the clinic. */
@Entity
public class TrayRule {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private int place;
    private @Nullable Method method;
    private @Nullable Wax wax;
    private @Nullable Canal canal;
    private @Nullable Depth depth;
    private String tray;
    private boolean commonPractice;

    @Version
    private int version;

    protected TrayRule() {}

    TrayRule(ClinicId clinicId, int place, When when, String tray, boolean commonPractice) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.place = place;
        this.method = when.method();
        this.wax = when.wax();
        this.canal = when.canal();
        this.depth = when.depth();
        this.tray = tray;
        this.commonPractice = commonPractice;
    }

    /** When a rule holds; what is null does not matter. */
    public record When(
            @Nullable Method method,
            @Nullable Wax wax,
            @Nullable Canal canal,
            @Nullable Depth depth) {

        /** Whether it names anything at all. */
        public boolean namesSomething() {
            return method != null || wax != null || canal != null || depth != null;
        }

        boolean holds(Method planned, EarFindings ear) {
            return (method == null || method == planned)
                    && (wax == null || wax == ear.wax())
                    && (canal == null || canal == ear.canal())
                    && (depth == null || depth == ear.depth());
        }
    }

    /** Changes the rule, which from then on is the clinic's own. */
    void amend(When when, String newTray) {
        method = when.method();
        wax = when.wax();
        canal = when.canal();
        depth = when.depth();
        tray = newTray;
        commonPractice = false;
    }

    /** Whether it holds for any of these ears. */
    boolean holds(Method planned, Collection<EarFindings> ears) {
        return ears.stream().anyMatch(ear -> when().holds(planned, ear));
    }

    public UUID id() {
        return id;
    }

    /** Its number in the list. */
    public int place() {
        return place;
    }

    public When when() {
        return new When(method, wax, canal, depth);
    }

    /** What to lay out, in words. */
    public String tray() {
        return tray;
    }

    /** Whether it comes from common practice (no source) as delivered, unchanged by the clinic. */
    public boolean commonPractice() {
        return commonPractice;
    }
}
