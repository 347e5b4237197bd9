package org.earslot.estimate.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.estimate.FitProgress;
import org.earslot.estimate.FitScores;
import org.earslot.estimate.Fits;
import org.earslot.estimate.Snapshot;
import org.earslot.estimate.StopsByDifficulty;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What the estimator has learnt and how good it is, for the lead; fits are started and gone back to here. */
@Controller
@RequestMapping("/estimator")
@PreAuthorize("hasRole('LEAD')")
class EstimatorPages {

    private static final DateTimeFormatter WHEN = DateTimeFormatter.ofPattern("d MMM uuuu HH:mm", Locale.ENGLISH);

    private final Fits fits;
    private final Practitioners practitioners;
    private final CurrentClinic clinic;
    private final ClinicClock clock;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    EstimatorPages(
            Fits fits,
            Practitioners practitioners,
            CurrentClinic clinic,
            ClinicClock clock,
            Messages messages,
            ApplicationEventPublisher events) {
        this.fits = fits;
        this.practitioners = practitioners;
        this.clinic = clinic;
        this.clock = clock;
        this.messages = messages;
        this.events = events;
    }

    /**
     * A fit as a line of the list.
     *
     * @param goBack whether it can be put in force
     */
    record FitLine(
            String version,
            String when,
            int visits,
            int stoppedEarly,
            String seconds,
            String slotCost,
            String bestOfOthers,
            boolean inForce,
            boolean goBack) {}

    @GetMapping
    String show(Model model) {
        Optional<Snapshot> inForce = fits.inForce(clinic.id());
        List<String> whole = fits.canBePutInForce(clinic.id());
        model.addAttribute("inForce", inForce.map(fit -> line(fit, whole)).orElse(null));
        FitScores scores = inForce.map(Snapshot::scores).orElse(null);
        model.addAttribute("scores", scores);
        model.addAttribute("bars", scores == null ? List.of() : ScoreView.bars(scores));
        model.addAttribute("stretches", scores == null ? List.of() : ScoreView.stretches(scores));
        model.addAttribute("learnt", inForce.map(Snapshot::learnt).orElse(null));
        model.addAttribute("gammas", StopsByDifficulty.GAMMAS);
        model.addAttribute("otherRelease", inForce.isPresent() && !inForce.get().computedAsNow());
        model.addAttribute("names", names());
        model.addAttribute(
                "fits",
                fits.all(clinic.id()).stream().map(fit -> line(fit, whole)).toList());
        model.addAttribute("progress", fits.underWay(clinic.id()).orElse(null));
        model.addAttribute("failure", fits.lastFailure(clinic.id()).orElse(null));
        return "estimate/estimator";
    }

    @PostMapping("/fit")
    String fit(RedirectAttributes redirect) {
        fits.fitInBackground(clinic.id());
        events.publishEvent(new Audited.Entry(clinic.id(), "estimator-fit-started", "estimator", null, null));
        redirect.addFlashAttribute("notice", messages.say("estimate.fit.started"));
        return "redirect:/estimator";
    }

    /** How far the fit is, for the page to ask every second; at the end it asks the page to load itself again. */
    @GetMapping("/progress")
    String progress(Model model, HttpServletResponse response) {
        Optional<FitProgress> progress = fits.underWay(clinic.id());
        if (progress.isEmpty()) {
            response.setHeader("HX-Refresh", "true");
        }
        model.addAttribute("progress", progress.orElse(null));
        return "estimate/estimator :: progress";
    }

    @PostMapping("/in-force")
    String putInForce(@RequestParam(defaultValue = "") String version, RedirectAttributes redirect) {
        if (fits.putInForce(clinic.id(), version).isEmpty()) {
            throw Refused.invalid("version", version, "estimate.fit.notThere");
        }
        events.publishEvent(new Audited.Entry(clinic.id(), "estimator-put-in-force", "estimator", version, null));
        redirect.addFlashAttribute("notice", messages.say("estimate.fit.inForceNow", version));
        return "redirect:/estimator";
    }

    /** Two fits side by side. */
    @GetMapping("/compare")
    String compare(
            @RequestParam(defaultValue = "") String one, @RequestParam(defaultValue = "") String other, Model model) {
        Snapshot first = fit(one);
        Snapshot second = fit(other);
        model.addAttribute("one", first);
        model.addAttribute("other", second);
        model.addAttribute("lines", new FitComparison(messages).lines(first, second));
        return "estimate/compare";
    }

    private Snapshot fit(String version) {
        return fits.all(clinic.id()).stream()
                .filter(fit -> fit.version().equals(version))
                .findFirst()
                .orElseThrow(() -> Refused.notFound("fit"));
    }

    private Map<String, String> names() {
        return practitioners.findByClinicIdOrderByName(clinic.id()).stream()
                .collect(Collectors.toMap(one -> one.id().toString(), Practitioner::name));
    }

    private FitLine line(Snapshot fit, List<String> whole) {
        FitScores scores = fit.scores();
        return new FitLine(
                fit.version(),
                when(fit.fittedAt()),
                fit.visits(),
                fit.stoppedEarly(),
                number(fit.seconds()),
                scores.estimator().map(way -> number(way.overall().pinball())).orElse("-"),
                scores.bestOfOthers().isPresent() ? number(scores.bestOfOthers().getAsDouble()) : "-",
                fit.inForce(),
                !fit.inForce() && whole.contains(fit.version()));
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.2f", value);
    }

    private String when(Instant at) {
        return WHEN.format(clock.local(clinic.id(), at));
    }
}
