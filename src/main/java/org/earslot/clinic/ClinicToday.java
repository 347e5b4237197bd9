package org.earslot.clinic;

import java.time.Clock;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.validation.autoconfigure.ValidationConfigurationCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** Dates of forms are validated by the date of the clinic that asks. */
@Configuration(proxyBeanMethods = false)
class ClinicToday {

    @Bean
    ValidationConfigurationCustomizer clockOfTheClinic(
            ObjectProvider<ClinicClock> clock, ObjectProvider<CurrentClinic> current) {
        return configuration -> configuration.clockProvider(() -> {
            ClinicClock clinics = clock.getObject();
            return Clock.fixed(clinics.now(), clinics.zone(current.getObject().id()));
        });
    }
}
