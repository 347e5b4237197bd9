package org.earslot.daysheet.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.RecentViews;
import org.earslot.daysheet.DaySheet;
import org.earslot.daysheet.DaySheets;
import org.earslot.daysheet.SoftenerChecks;
import org.earslot.kit.KitForecast;
import org.earslot.offers.Rescheduling;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The morning's sheets: on the screen one below the other, in print each on its own page. */
@Controller
class DaySheetPage {

    private static final int MOST_DAYS = 365;

    private final DaySheets sheets;
    private final SoftenerChecks softener;
    private final Rescheduling rescheduling;
    private final KitForecast kit;
    private final AskedDate dates;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final RecentViews views;
    private final Appointments appointments;
    private final Messages messages;

    DaySheetPage(
            DaySheets sheets,
            SoftenerChecks softener,
            Rescheduling rescheduling,
            KitForecast kit,
            AskedDate dates,
            CurrentClinic current,
            ClinicClock clock,
            RecentViews views,
            Appointments appointments,
            Messages messages) {
        this.sheets = sheets;
        this.softener = softener;
        this.rescheduling = rescheduling;
        this.kit = kit;
        this.messages = messages;
        this.dates = dates;
        this.current = current;
        this.clock = clock;
        this.views = views;
        this.appointments = appointments;
    }

    @GetMapping("/day/{date}/sheet")
    String show(
            @PathVariable String date,
            @RequestHeader(name = "HX-Request", defaultValue = "false") boolean again,
            Model model) {
        return show(dates.read(date), again, model);
    }

    /** Softener was used for so many days, as the patient says. */
    @PostMapping("/day/{date}/sheet/softener")
    String softener(
            @PathVariable String date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        LocalDate asked = dates.read(date);
        Reading reading = new Reading();
        Optional<UUID> id = reading.required(
                "appointment", reading.id("appointment", typed.get("appointment")), "daysheet.allowed.appointment");
        Optional<Integer> days = reading.required(
                "days",
                reading.whole("days", typed.get("days"), 0, MOST_DAYS),
                "daysheet.allowed.softenerDays",
                MOST_DAYS);
        if (id.isEmpty() || days.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            model.addAttribute("problems", reading.byField());
            model.addAttribute("typed", typed);
            return show(asked, false, model);
        }
        if (!softener.confirm(current.id(), id.get(), days.get(), current.who())) {
            throw Refused.notFound("referred-appointment");
        }
        redirect.addFlashAttribute("notice", messages.say("daysheet.softener.recorded", days.get()));
        return "redirect:/day/" + asked + "/sheet";
    }

    /** The days after today on which the kit will not reach; said on the sheet of today. */
    private List<KitForecast.Day> kitAhead(LocalDate asked) {
        LocalDate today = clock.today(current.id());
        return asked.equals(today)
                ? kit.ahead(current.id()).stream()
                        .filter(day -> day.date().isAfter(today))
                        .toList()
                : List.of();
    }

    private String show(LocalDate asked, boolean again, Model model) {
        DaySheet sheet = sheets.of(current.id(), asked);
        model.addAttribute("sheet", sheet);
        model.addAttribute("changes", rescheduling.undoable(current.id(), asked));
        model.addAttribute("today", clock.today(current.id()));
        model.addAttribute("kitAhead", kitAhead(asked));
        model.addAttribute("printed", clock.local(current.id(), clock.now()));
        model.addAttribute(
                "title",
                asked.format(DateTimeFormatter.ofPattern("EEEE d MMMM yyyy", LocaleContextHolder.getLocale())));
        List<UUID> named = sheet.sheets().stream()
                .flatMap(each -> each.lines().stream())
                .map(line -> line.appointmentId())
                .toList();
        views.seen(
                current.id(), current.who(), again, appointments.patientsOf(current.id(), named), "day sheet " + asked);
        return "daysheet/sheet";
    }
}
