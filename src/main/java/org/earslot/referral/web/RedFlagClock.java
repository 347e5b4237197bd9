package org.earslot.referral.web;

import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.page.Messages;
import org.earslot.referral.RedFlag.Within;
import org.earslot.referral.RedFlagCase;
import org.springframework.stereotype.Component;

/** Until when a red flag has to be decided, in words. */
@Component
class RedFlagClock {

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMM", Locale.ENGLISH);
    private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm");

    private final ClinicClock clock;
    private final Messages messages;

    RedFlagClock(ClinicClock clock, Messages messages) {
        this.clock = clock;
        this.messages = messages;
    }

    /** Whether the time is up; what has to be decided now is never shown as waiting its time. */
    boolean overdue(ClinicId clinicId, RedFlagCase open) {
        return open.within() != Within.NOW && !clock.now().isBefore(open.due(clock.zone(clinicId)));
    }

    /** "now", "by the end of today", "by 14:32 tomorrow", "by Wed 4 Mar". */
    String by(ClinicId clinicId, RedFlagCase open) {
        ZoneId zone = clock.zone(clinicId);
        ZonedDateTime due = open.due(zone).atZone(zone);
        LocalDate today = clock.today(clinicId);
        return switch (open.within()) {
            case NOW -> say("now");
            case SAME_DAY ->
                due.toLocalDate().equals(today.plusDays(1)) ? say("today") : say("day", DAY.format(due.minusDays(1)));
            case A_DAY -> atTime(due, today);
            case TWO_WEEKS -> say("day", DAY.format(due.minusDays(1)));
        };
    }

    private String atTime(ZonedDateTime due, LocalDate today) {
        String time = TIME.format(due);
        if (due.toLocalDate().equals(today)) {
            return say("at", time);
        }
        return due.toLocalDate().equals(today.plusDays(1))
                ? say("tomorrow", time)
                : say("at.day", time, DAY.format(due));
    }

    private String say(String key, Object... arguments) {
        return messages.say("referral.redFlag.by." + key, arguments);
    }
}
