package org.earslot.clinic;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.atLeast;
import static org.mockito.Mockito.clearInvocations;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.times;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class ClinicClockTest {

    private static final ClinicId CLINIC = new ClinicId(new UUID(0, 1));

    private final Clinics clinics = mock(Clinics.class);
    private final ClinicClock clock = new ClinicClock(Clock.systemUTC(), clinics);

    @BeforeEach
    void a_clinic() {
        zoneIs("Europe/London");
    }

    private void zoneIs(String zone) {
        when(clinics.findById(any()))
                .thenAnswer(asked ->
                        Optional.of(new Clinic(asked.getArgument(0), "Clinic", ZoneId.of(zone), Instant.EPOCH)));
    }

    @Test
    void reads_a_zone_once_and_again_when_it_was_changed() {
        clock.zone(CLINIC);
        clock.zone(CLINIC);
        verify(clinics, times(1)).findById(CLINIC);
        zoneIs("Europe/Paris");
        assertThat(clock.zone(CLINIC)).isEqualTo(ZoneId.of("Europe/London"));
        clock.zoneChanged(CLINIC);
        assertThat(clock.zone(CLINIC)).isEqualTo(ZoneId.of("Europe/Paris"));
    }

    @Test
    void holds_no_more_zones_than_its_size() {
        int asked = ClinicClock.MAXIMUM_CLINICS + 100;
        for (int i = 0; i < asked; i++) {
            clock.zone(new ClinicId(new UUID(1, i)));
        }
        clearInvocations(clinics);
        for (int i = 0; i < asked; i++) {
            clock.zone(new ClinicId(new UUID(1, i)));
        }
        verify(clinics, atLeast(100)).findById(any());
    }
}
