package org.earslot.day.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.temporal.TemporalAdjusters;
import java.util.stream.Stream;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.web.PlaceForm;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedules;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** A week, from Monday: how full each session is and how likely it is to end late. It names no patient. */
@Controller
class WeekPages {

    private final DaySchedules diaries;
    private final PlaceRules rules;
    private final CurrentClinic current;
    private final ClinicClock clock;

    WeekPages(DaySchedules diaries, PlaceRules rules, CurrentClinic current, ClinicClock clock) {
        this.diaries = diaries;
        this.rules = rules;
        this.current = current;
        this.clock = clock;
    }

    /** @param date any day of the week */
    @GetMapping("/day/{date}/week")
    String show(@PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date, Model model) {
        PlaceForm.Days.check(date);
        ClinicId clinic = current.id();
        LocalDateTime now = clock.local(clinic, clock.now());
        LocalDate monday = date.with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
        model.addAttribute("date", date);
        model.addAttribute("monday", monday);
        model.addAttribute("today", now.toLocalDate());
        model.addAttribute("now", now.toLocalTime());
        model.addAttribute("limit", rules.policy(clinic).acceptedOvertimeShare());
        model.addAttribute(
                "days",
                Stream.iterate(monday, day -> day.plusDays(1))
                        .limit(DayOfWeek.values().length)
                        .map(day -> diaries.of(clinic, day))
                        .filter(WeekPages::shown)
                        .toList());
        return "day/week";
    }

    /** A day of the weekend only where something is held or booked. */
    private static boolean shown(DaySchedule day) {
        return !day.lanes().isEmpty() || day.date().getDayOfWeek().compareTo(DayOfWeek.FRIDAY) <= 0;
    }
}
