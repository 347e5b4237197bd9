package org.earslot.day.web;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.booking.VisitsToCancel;
import org.earslot.booking.VisitsToCancel.ToCancel;
import org.earslot.booking.web.PlaceForm;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.RecentViews;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedules;
import org.earslot.day.DayWaits;
import org.earslot.day.RedFlagNotices;
import org.earslot.day.SuggestedPlaces;
import org.earslot.day.WaitNotices;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.Problem;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The page of a day, shown again by whoever refuses something on it. */
@Component
public class DayPage {

    private final DaySchedules diaries;
    private final SuggestedPlaces suggested;
    private final WaitNotices notices;
    private final RedFlagNotices redFlags;
    private final VisitsToCancel toCancel;
    private final OtherVisitKinds kinds;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final RecentViews views;

    DayPage(
            DaySchedules diaries,
            SuggestedPlaces suggested,
            WaitNotices notices,
            RedFlagNotices redFlags,
            VisitsToCancel toCancel,
            OtherVisitKinds kinds,
            CurrentClinic current,
            ClinicClock clock,
            RecentViews views) {
        this.diaries = diaries;
        this.suggested = suggested;
        this.notices = notices;
        this.redFlags = redFlags;
        this.toCancel = toCancel;
        this.kinds = kinds;
        this.current = current;
        this.clock = clock;
        this.views = views;
    }

    public String show(Model model, LocalDate date) {
        return show(model, date, Map.of(), Map.of());
    }

    /** For a screen that shows itself again. */
    String showAgain(Model model, LocalDate date) {
        return show(model, date, Map.of(), Map.of(), true);
    }

    /**
     * @param typed what was typed into a form that is refused
     * @param problems by field
     */
    public String show(Model model, LocalDate date, Map<String, String> typed, Map<String, Problem> problems) {
        return show(model, date, typed, problems, false);
    }

    private String show(
            Model model, LocalDate date, Map<String, String> typed, Map<String, Problem> problems, boolean again) {
        PlaceForm.Days.check(date);
        ClinicId clinic = current.id();
        LocalDateTime now = clock.local(clinic, clock.now());
        DaySchedule day = diaries.of(clinic, date);
        boolean today = date.equals(now.toLocalDate());
        model.addAttribute("day", day);
        model.addAttribute("suggested", suggested.of(day));
        model.addAttribute(
                "picture", DayPicture.of(day, today ? now.toLocalTime() : null, date.isBefore(now.toLocalDate())));
        model.addAttribute("notices", notices.of(day));
        model.addAttribute("waits", date.isAfter(now.toLocalDate()) ? List.of() : DayWaits.of(day));
        model.addAttribute("undoable", today ? day.lastPress(now.toLocalTime()).orElse(null) : null);
        model.addAttribute("today", now.toLocalDate());
        model.addAttribute("isToday", today);
        model.addAttribute(
                "redFlags",
                redFlags.of(clinic, day.lines().map(line -> line.id()).toList()));
        List<ToCancel> deceased = toCancel.of(clinic);
        model.addAttribute("deceased", deceased);
        model.addAttribute("isPast", date.isBefore(now.toLocalDate()));
        model.addAttribute("now", now.toLocalTime());
        model.addAttribute("mayPress", today && !day.closed());
        model.addAttribute("mayClose", day.open().isEmpty() || day.isOver(now));
        model.addAttribute(
                "kinds",
                kinds.findByClinicIdOrderByName(clinic).stream()
                        .filter(OtherVisitKind::active)
                        .toList());
        model.addAttribute("methods", Method.values());
        model.addAttribute("earsWords", Ears.values());
        model.addAttribute("typed", typed);
        model.addAttribute("problems", problems);
        model.addAttribute("lookAgainSeconds", today ? 60 : null);
        seen(day, deceased, again);
        return "day/day";
    }

    private void seen(DaySchedule day, List<ToCancel> deceased, boolean again) {
        List<UUID> patients = Stream.concat(
                        day.lines().map(line -> line.who().patientId()),
                        deceased.stream().map(one -> one.patient().id()))
                .filter(Objects::nonNull)
                .toList();
        views.seen(day.clinicId(), current.who(), again, patients, "day " + day.date());
    }
}
