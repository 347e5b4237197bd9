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
 * @param longest a stream is opened anew after this, and with it the sign-in checked
 */
@ConfigurationProperties("earslot.day-streams")
record DayStreamSettings(
        @DefaultValue("12") int perAccount,
        @DefaultValue("300") int perClinic,
        @DefaultValue("20s") Duration heartbeat,
        @DefaultValue("5m") Duration longest) {}
