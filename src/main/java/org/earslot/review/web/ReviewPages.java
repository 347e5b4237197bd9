package org.earslot.review.web;

import jakarta.servlet.http.HttpServletRequest;
import java.time.YearMonth;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Optional;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Refused;
import org.earslot.review.MonthReview;
import org.earslot.review.Reviews;
import org.earslot.review.Whose;
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

/** The month read back: for the lead all of it, for a practitioner the own figures. */
@Controller
@RequestMapping("/review")
@PreAuthorize("hasAnyRole('LEAD', 'PRACTITIONER')")
class ReviewPages {

    private static final String LEAD = "LEAD";

    private final Reviews reviews;
    private final AskedMonth months;
    private final CurrentClinic current;

    ReviewPages(Reviews reviews, AskedMonth months, CurrentClinic current) {
        this.reviews = reviews;
        this.months = months;
        this.current = current;
    }

    @GetMapping
    String latest(HttpServletRequest request) {
        Optional<Whose> whose = whose(request);
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
        Optional<Whose> whose = whose(request);
        if (whose.isEmpty()) {
            return "review/nobody";
        }
        model.addAttribute("review", reviews.of(current.id(), asked, whose.get()));
        model.addAttribute("own", whose.get().practitionerId() != null);
        model.addAttribute("title", named(asked));
        model.addAttribute("before", asked.minusMonths(1));
        model.addAttribute("after", asked.isBefore(reviews.now(current.id())) ? asked.plusMonths(1) : null);
        model.addAttribute("running", asked.equals(reviews.now(current.id())));
        return "review/month";
    }

    /** One sheet for the owner, in plain words. */
    @GetMapping("/{month}/owner")
    @PreAuthorize("hasRole('LEAD')")
    String owner(@PathVariable String month, Model model) {
        YearMonth asked = months.read(month, current.id());
        model.addAttribute("review", reviews.of(current.id(), asked, Whose.EVERYONE));
        model.addAttribute("title", named(asked));
        return "review/owner";
    }

    @GetMapping("/{month}/{table}.csv")
    ResponseEntity<String> file(@PathVariable String month, @PathVariable String table, HttpServletRequest request) {
        YearMonth asked = months.read(month, current.id());
        MonthReview review = reviews.of(current.id(), asked, whose(request).orElseThrow(ReviewPages::nobody));
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
    private Optional<Whose> whose(HttpServletRequest request) {
        return request.isUserInRole(LEAD)
                ? Optional.of(Whose.EVERYONE)
                : current.practitionerId().map(Whose::new);
    }

    private static Refused nobody() {
        return new Refused(403, "no-practitioner", "This account belongs to no practitioner.", List.of());
    }

    private static String named(YearMonth month) {
        return month.format(DateTimeFormatter.ofPattern("MMMM yyyy", LocaleContextHolder.getLocale()));
    }
}
