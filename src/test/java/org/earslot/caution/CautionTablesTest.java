package org.earslot.caution;

import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.atLeast;
import static org.mockito.Mockito.clearInvocations;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.times;
import static org.mockito.Mockito.verify;

import java.util.UUID;
import java.util.concurrent.atomic.AtomicLong;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioners;
import org.junit.jupiter.api.Test;

/** A clinic's table is read once until it is changed, here or on another server. */
class CautionTablesTest {

    private static final ClinicId CLINIC = new ClinicId(new UUID(0, 1));

    private final CautionCells cells = mock(CautionCells.class);
    private final AtomicLong nanos = new AtomicLong();
    private final CautionTables tables = new CautionTables(
            cells,
            mock(CautionTableVersions.class),
            mock(Practitioners.class),
            mock(ClinicClock.class),
            event -> {},
            nanos::get);

    @Test
    void a_table_is_read_again_when_it_was_changed() {
        tables.of(CLINIC);
        tables.of(CLINIC);
        verify(cells, times(1)).findByClinicIdOrderByPlace(CLINIC);
        tables.forget(new CautionTableChanged(CLINIC));
        tables.of(CLINIC);
        verify(cells, times(2)).findByClinicIdOrderByPlace(CLINIC);
    }

    @Test
    void a_change_made_on_another_server_is_seen_soon() {
        tables.of(CLINIC);
        nanos.addAndGet(CautionTables.READ_AGAIN.toNanos() - 1);
        tables.of(CLINIC);
        verify(cells, times(1)).findByClinicIdOrderByPlace(CLINIC);
        nanos.addAndGet(1);
        tables.of(CLINIC);
        verify(cells, times(2)).findByClinicIdOrderByPlace(CLINIC);
    }

    @Test
    void holds_no_more_tables_than_its_size() {
        int asked = CautionTables.MAXIMUM_CLINICS + 100;
        for (int i = 0; i < asked; i++) {
            tables.of(new ClinicId(new UUID(1, i)));
        }
        clearInvocations(cells);
        for (int i = 0; i < asked; i++) {
            tables.of(new ClinicId(new UUID(1, i)));
        }
        verify(cells, atLeast(100)).findByClinicIdOrderByPlace(any());
    }
}
