package org.earslot.estimate;

import java.time.Duration;
import java.time.LocalTime;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * When fits run of themselves.
 *
 * @param afterImport quiet time after the last imported visits before a fit starts
 * @param nightly clinic-local time after which the fit of the night may run
 */
@ConfigurationProperties("earslot.fits")
record FitSettings(
        @DefaultValue("5s") Duration afterImport,
        @DefaultValue("02:30") LocalTime nightly) {}
