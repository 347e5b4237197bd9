package org.earslot.caution.web;

import org.earslot.caution.CautionTable;
import org.earslot.caution.CautionTables;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.springframework.stereotype.Component;

/** Tells every page of a practitioner or a lead whether the caution table still waits for a signature. */
@Component("cautionReview")
class CautionReview {

    private final CautionTables tables;
    private final CurrentClinic current;
    private final ClinicClock clock;

    CautionReview(CautionTables tables, CurrentClinic current, ClinicClock clock) {
        this.tables = tables;
        this.current = current;
        this.clock = clock;
    }

    /** Whether a cell is not signed off, or is due to be read again. */
    public boolean open() {
        CautionTable table = tables.of(current.id());
        return table.unsigned() > 0 || table.reviewDue(clock.today(current.id())) > 0;
    }
}
