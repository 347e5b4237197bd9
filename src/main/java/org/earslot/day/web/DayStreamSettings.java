package org.earslot.day.web;

import java.time.Duration;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Limits of the streams that keep open screens up to date.
 *
 * @param perAccount open streams of one account; beyond it a screen looks again by itself
 * @param perClinic open streams of one clinic on this server
 * @param heartbeat an unused stream says so often that it lives, so that nothing between closes it
 * @param longest the browser opens the stream again after this, which checks the sign-in again
 */
@ConfigurationProperties("earslot.day-streams")
record DayStreamSettings(
        @DefaultValue("12") int perAccount,
        @DefaultValue("300") int perClinic,
        @DefaultValue("20s") Duration heartbeat,
        @DefaultValue("5m") Duration longest) {}
