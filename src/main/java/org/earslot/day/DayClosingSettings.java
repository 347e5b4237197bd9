package org.earslot.day;

import java.time.LocalTime;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * When days close of themselves.
 *
 * @param nights a day closes in so many nights from its own; 0: only a person closes it
 * @param at clinic-local time of the night after which it closes
 */
@ConfigurationProperties("earslot.day-closing")
record DayClosingSettings(
        @DefaultValue("1") int nights,
        @DefaultValue("03:00") LocalTime at) {}
