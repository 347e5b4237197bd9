package org.earslot.daysheet.web;

import jakarta.servlet.http.HttpServletRequest;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.daysheet.RunningLists;
import org.earslot.daysheet.RunningLists.Shown;
import org.earslot.diary.RecentViews;
import org.earslot.page.Refused;
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
    private final AskedDate dates;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final RecentViews views;

    RunningListPage(RunningLists lists, AskedDate dates, CurrentClinic current, ClinicClock clock, RecentViews views) {
        this.lists = lists;
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
            throw Refused.notFound("list of that practitioner on this day");
        }
        LocalDateTime now = clock.local(current.id(), clock.now());
        model.addAttribute("choices", shown.choices());
        model.addAttribute("list", shown.list().orElse(null));
        model.addAttribute("date", asked);
        model.addAttribute("today", now.toLocalDate());
        model.addAttribute("now", now.toLocalTime());
        boolean byTheChair = request.isUserInRole("PRACTITIONER") || request.isUserInRole("LEAD");
        model.addAttribute("mayPress", byTheChair && asked.equals(now.toLocalDate()));
        model.addAttribute(
                "title", asked.format(DateTimeFormatter.ofPattern("EEE d MMM yyyy", LocaleContextHolder.getLocale())));
        boolean again = request.getHeader("HX-Request") != null;
        model.addAttribute("lookAgainSeconds", LOOK_AGAIN_SECONDS);
        shown.list()
                .ifPresent(list -> Stream.of(list.inRoom(), list.toClear(), list.next())
                        .flatMap(Optional::stream)
                        .forEach(line -> views.seen(
                                current.id(), current.who(), again, "appointment", line.id(), "running list")));
        return "daysheet/now";
    }
}
