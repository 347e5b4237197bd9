package org.earslot.caution;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.LocalDate;
import java.time.Period;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** A rule of a clinic's own, in place of the default's cell. */
@Entity
class CautionCell {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private @Nullable Caution caution;
    private @Nullable Method method;
    private int place;
    private String verdict;
    private @Nullable String within;
    private boolean allClear;
    private String source;
    private String sourceMark;
    private @Nullable String signedName;
    private @Nullable String signedRole;
    private @Nullable LocalDate signedOn;
    private @Nullable LocalDate reviewBy;

    protected CautionCell() {}

    CautionCell(ClinicId clinicId, int place, CautionRule rule) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.caution = rule.caution();
        this.method = rule.method();
        this.place = place;
        this.verdict = rule.verdict().code();
        this.within = rule.within().map(Period::toString).orElse(null);
        this.allClear = rule.needsAllClear();
        this.source = rule.source();
        this.sourceMark = rule.mark().code();
        rule.signOff().ifPresent(this::sign);
    }

    /**
     * The rule; empty for a caution or method that this release does not know, which has no cell. A mark that is not known
     * counts as the weakest.
     */
    Optional<CautionRule> rule() {
        if (caution == null || method == null) {
            return Optional.empty();
        }
        return Optional.of(new CautionRule(
                caution,
                method,
                Verdict.of(verdict).orElseThrow(),
                Optional.ofNullable(within).map(Period::parse),
                allClear,
                source,
                Mark.of(sourceMark).orElse(Mark.FROM_MEMORY),
                Optional.ofNullable(signedName)
                        .map(name -> new SignOff(name, Objects.requireNonNull(signedRole), signedOn, reviewBy))));
    }

    private void sign(SignOff by) {
        signedName = by.name();
        signedRole = by.role();
        signedOn = by.on();
        reviewBy = by.reviewBy();
    }
}
