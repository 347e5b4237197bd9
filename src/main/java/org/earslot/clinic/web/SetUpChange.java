package org.earslot.clinic.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.setup.PolicySetUp;
import org.earslot.clinic.setup.SessionSetUp;
import org.earslot.clinic.setup.SetUp;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Problem;
import org.springframework.stereotype.Component;

/** Carries out what one form of the set-up page asks for. */
@Component
class SetUpChange {

    private final SetUp setUp;
    private final SessionSetUp sessions;
    private final PolicySetUp policies;
    private final SetUpRows rows;
    private final Edits edits;

    SetUpChange(SetUp setUp, SessionSetUp sessions, PolicySetUp policies, SetUpRows rows, Edits edits) {
        this.setUp = setUp;
        this.sessions = sessions;
        this.policies = policies;
        this.rows = rows;
        this.edits = edits;
    }

    /** What is wrong; empty if somebody else has changed the row since the page was opened. */
    Optional<List<Problem>> carryOut(SubmittedForm typed, Optional<UUID> id, ClinicId clinicId, LocalDate today) {
        SetUpReading reading = new SetUpReading(typed, clinicId, today);
        Supplier<List<Problem>> change = () -> reading.carryOut(setUp, sessions, policies, id);
        if (rows.find(clinicId, typed.section(), id).isEmpty()) {
            return Optional.of(change.get());
        }
        return edits.save(
                typed.get(FormVersion.FIELD),
                () -> rows.find(clinicId, typed.section(), id).orElseThrow().version(),
                change);
    }
}
