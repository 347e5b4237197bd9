package org.earslot.daysheet.web;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.daysheet.DaySheet;
import org.earslot.daysheet.DaySheets;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** The morning's sheets: on the screen one below the other, in print each on its own page. */
@Controller
class DaySheetPage {

    private final DaySheets sheets;
    private final AskedDate dates;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    DaySheetPage(
            DaySheets sheets,
            AskedDate dates,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.sheets = sheets;
        this.dates = dates;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    @GetMapping("/day/{date}/sheet")
    String show(@PathVariable String date, Model model) {
        LocalDate asked = dates.read(date);
        DaySheet sheet = sheets.of(current.id(), asked);
        model.addAttribute("sheet", sheet);
        model.addAttribute("today", clock.today(current.id()));
        model.addAttribute("printed", clock.local(current.id(), clock.now()));
        model.addAttribute(
                "title",
                asked.format(DateTimeFormatter.ofPattern("EEEE d MMMM yyyy", LocaleContextHolder.getLocale())));
        sheet.sheets().stream()
                .flatMap(each -> each.lines().stream())
                .forEach(line -> events.publishEvent(new Audited.Entry(
                        current.id(),
                        "patient-seen",
                        "appointment",
                        line.appointmentId().toString(),
                        "day sheet " + asked)));
        return "daysheet/sheet";
    }
}
