package org.earslot.daysheet.web;

import jakarta.servlet.http.HttpServletRequest;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.RecentViews;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.RedFlagNotice;
import org.earslot.day.RedFlagNotices;
import org.earslot.day.web.FindingsForm;
import org.earslot.daysheet.RunningList;
import org.earslot.daysheet.RunningLists;
import org.earslot.daysheet.RunningLists.Shown;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.VisitCheck;
import org.earslot.page.Refused;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;

/** The list as it runs, for a tablet by the chair: the presses themselves are the diary's. */
@Controller
class RunningListPage {

    /** Without scripts the page is asked for again so often. */
    private static final int LOOK_AGAIN_SECONDS = 60;

    private final RunningLists lists;
    private final ClinicalNote note;
    private final RedFlagNotices redFlags;
    private final AskedDate dates;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final RecentViews views;

    RunningListPage(
            RunningLists lists,
            ClinicalNote note,
            RedFlagNotices redFlags,
            AskedDate dates,
            CurrentClinic current,
            ClinicClock clock,
            RecentViews views) {
        this.lists = lists;
        this.note = note;
        this.redFlags = redFlags;
        this.dates = dates;
        this.current = current;
        this.clock = clock;
        this.views = views;
    }

    /** @param practitioner whose list; the own one, or the first, where none is given */
    @GetMapping("/day/{date}/now")
    String show(
            @PathVariable String date,
            @RequestParam @Nullable UUID practitioner,
            HttpServletRequest request,
            Model model) {
        LocalDate asked = dates.read(date);
        Optional<UUID> whose = practitioner == null ? current.practitionerId() : Optional.of(practitioner);
        Shown shown = lists.of(current.id(), asked, whose);
        if (practitioner != null && shown.list().isEmpty()) {
            throw Refused.notFound("running-list");
        }
        LocalDateTime now = clock.local(current.id(), clock.now());
        model.addAttribute("choices", shown.choices());
        model.addAttribute("list", shown.list().orElse(null));
        model.addAttribute("redFlags", shown.list().map(this::redFlags).orElse(Map.of()));
        model.addAttribute("date", asked);
        model.addAttribute("today", now.toLocalDate());
        model.addAttribute("now", now.toLocalTime());
        boolean byTheChair = request.isUserInRole("PRACTITIONER") || request.isUserInRole("LEAD");
        model.addAttribute("closed", shown.closed());
        model.addAttribute("isToday", asked.equals(now.toLocalDate()));
        model.addAttribute("pace", shown.pace().orElse(null));
        model.addAttribute("undoable", shown.lastPress().orElse(null));
        model.addAttribute("problems", Map.of());
        model.addAttribute("typed", Map.of());
        model.addAttribute("mayPress", byTheChair && !shown.closed() && asked.equals(now.toLocalDate()));
        model.addAttribute("mayRecord", byTheChair && !asked.isAfter(now.toLocalDate()));
        model.addAttribute("lists", FindingsForm.LISTS);
        model.addAttribute(
                "findings", shown.list().map(RunningListPage::findings).orElse(Map.of()));
        model.addAttribute("checks", VisitCheck.values());
        model.addAttribute("oftenFound", EarRecord.OFTEN_FOUND);
        model.addAttribute("alsoFound", EarRecord.ALSO_FOUND);
        model.addAttribute("methods", Method.values());
        model.addAttribute("earsWords", Ears.values());
        model.addAttribute(
                "due",
                shown.list().stream()
                        .flatMap(list -> list.outside().stream())
                        .filter(line -> RunningList.isDue(line, now.toLocalTime()))
                        .map(Line::id)
                        .toList());
        model.addAttribute("notes", shown.list().map(this::notes).orElse(Map.of()));
        model.addAttribute(
                "title", asked.format(DateTimeFormatter.ofPattern("EEE d MMM yyyy", LocaleContextHolder.getLocale())));
        boolean again = request.getHeader("HX-Request") != null;
        model.addAttribute("lookAgainSeconds", LOOK_AGAIN_SECONDS);
        List<UUID> named = shown.list().stream()
                .flatMap(list -> Stream.concat(
                        Stream.of(list.inRoom(), list.toClear(), list.next()).flatMap(Optional::stream),
                        list.seen().stream()))
                .map(line -> line.who().patientId())
                .filter(Objects::nonNull)
                .toList();
        views.seen(current.id(), current.who(), again, named, "running list");
        return "daysheet/now";
    }

    /** What is open about red flags of those who are not seen yet, by appointment. */
    private Map<UUID, RedFlagNotice> redFlags(RunningList list) {
        return redFlags.of(
                current.id(),
                Stream.of(
                                list.inRoom().stream(),
                                list.alsoInRoom().stream(),
                                list.outside().stream(),
                                list.next().stream(),
                                list.rest().stream())
                        .flatMap(lines -> lines)
                        .map(Line::id)
                        .toList());
    }

    /** What is recorded of each visit whose findings can be recorded here, as the fields of the form; by appointment. */
    private static Map<UUID, Map<String, String>> findings(RunningList list) {
        return Stream.of(list.inRoom().stream(), list.alsoInRoom().stream(), list.toRecord().stream())
                .flatMap(lines -> lines)
                .collect(Collectors.toMap(
                        Line::id,
                        line -> Optional.ofNullable(list.visits().get(line.id()))
                                .map(FindingsForm::recorded)
                                .orElse(Map.of())));
    }

    /** The note for the clinical record of each visit that is over and recorded. */
    private Map<UUID, String> notes(RunningList list) {
        Map<UUID, String> notes = new HashMap<>();
        for (Line line : list.seen()) {
            Visit visit = list.visits().get(line.id());
            if (visit != null && line.recorded()) {
                notes.put(line.id(), note.of(line, visit, list.practitioner()));
            }
        }
        return notes;
    }
}
