package org.earslot.review.web;

import jakarta.servlet.http.HttpServletRequest;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.YearMonth;
import java.time.format.DateTimeFormatter;
import java.time.format.TextStyle;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.offers.FirstFreePlace;
import org.earslot.page.Refused;
import org.earslot.review.Reviews;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Scope;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The month read back: for the lead all of it, for a practitioner the own figures. */
@Controller
@RequestMapping("/review")
@PreAuthorize("hasAnyRole('LEAD', 'PRACTITIONER')")
class ReviewPages {

    private static final String LEAD = "LEAD";

    private final Reviews reviews;
    private final ChangeSection change;
    private final AskedMonth months;
    private final FirstFreePlace places;
    private final CurrentClinic current;
    private final ClinicClock clock;

    ReviewPages(
            Reviews reviews,
            ChangeSection change,
            AskedMonth months,
            FirstFreePlace places,
            CurrentClinic current,
            ClinicClock clock) {
        this.reviews = reviews;
        this.change = change;
        this.months = months;
        this.places = places;
        this.current = current;
        this.clock = clock;
    }

    @GetMapping
    String latest(HttpServletRequest request) {
        Optional<Scope> whose = whose(request);
        if (whose.isEmpty()) {
            return "review/nobody";
        }
        return reviews.latest(current.id(), whose.get())
                .map(month -> "redirect:/review/" + month)
                .orElse("review/none");
    }

    @GetMapping("/{month}")
    String month(@PathVariable String month, HttpServletRequest request, Model model) {
        YearMonth asked = months.read(month, current.id());
        Optional<Scope> whose = whose(request);
        if (whose.isEmpty()) {
            return "review/nobody";
        }
        boolean own = whose.get().practitionerId() != null;
        MonthReview review = reviews.of(current.id(), asked, whose.get());
        model.addAttribute("review", review);
        model.addAttribute("own", own);
        model.addAttribute("trends", TrendLine.of(review));
        model.addAttribute(
                "earlier",
                asked.minusMonths(1).getMonth().getDisplayName(TextStyle.FULL, LocaleContextHolder.getLocale()));
        free(review.head().usualSlot(), model);
        if (!own) {
            closed(asked, model);
            change.addTo(model, review);
        }
        model.addAttribute("title", named(asked));
        model.addAttribute("before", asked.minusMonths(1));
        model.addAttribute("after", asked.isBefore(reviews.now(current.id())) ? asked.plusMonths(1) : null);
        model.addAttribute("running", asked.equals(reviews.now(current.id())));
        return "review/month";
    }

    /** How soon a usual slot is free, as the diary stands now. */
    record Free(int slotMinutes, LocalDateTime start, long days) {}

    private void free(@Nullable Integer slotMinutes, Model model) {
        if (slotMinutes == null) {
            return;
        }
        LocalDate today = clock.today(current.id());
        places.of(current.id(), slotMinutes)
                .ifPresentOrElse(
                        start -> model.addAttribute(
                                "free",
                                new Free(slotMinutes, start, ChronoUnit.DAYS.between(today, start.toLocalDate()))),
                        () -> model.addAttribute("noneFree", slotMinutes));
    }

    private void closed(YearMonth asked, Model model) {
        reviews.closed(current.id(), asked).ifPresent(closed -> {
            model.addAttribute("closed", closed);
            model.addAttribute(
                    "closedOn", clock.local(current.id(), closed.at()).toLocalDate());
            model.addAttribute("corrections", reviews.corrections(current.id(), closed));
        });
    }

    /**
     * One sheet for the owner, in plain words.
     *
     * @param whole whether to wait for what to change
     */
    @GetMapping("/{month}/owner")
    @PreAuthorize("hasRole('LEAD')")
    String owner(@PathVariable String month, @RequestParam(defaultValue = "false") boolean whole, Model model) {
        YearMonth asked = months.read(month, current.id());
        MonthReview review = reviews.of(current.id(), asked, Scope.EVERYONE);
        model.addAttribute("review", review);
        if (whole) {
            change.addTo(model, asked);
        } else {
            change.addTo(model, review);
        }
        model.addAttribute("title", named(asked));
        return "review/owner";
    }

    @GetMapping("/{month}/{table}.csv")
    ResponseEntity<String> file(@PathVariable String month, @PathVariable String table, HttpServletRequest request) {
        YearMonth asked = months.read(month, current.id());
        MonthReview review = reviews.of(current.id(), asked, whose(request).orElseThrow(this::nobody));
        String text = ReviewCsv.table(review, table).orElseThrow(() -> Refused.notFound("table"));
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType("text/csv;charset=UTF-8"))
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        ContentDisposition.attachment()
                                .filename("review-" + asked + "-" + table + ".csv")
                                .build()
                                .toString())
                .body(text);
    }

    /** Everyone for the lead; the own practitioner for others; empty for an account without one. */
    private Optional<Scope> whose(HttpServletRequest request) {
        return request.isUserInRole(LEAD)
                ? Optional.of(Scope.EVERYONE)
                : current.practitionerId().map(Scope::new);
    }

    private Refused nobody() {
        return new Refused(403, "no-practitioner", "review.refused.noPractitioner");
    }

    private static String named(YearMonth month) {
        return month.format(DateTimeFormatter.ofPattern("MMMM yyyy", LocaleContextHolder.getLocale()));
    }
}
