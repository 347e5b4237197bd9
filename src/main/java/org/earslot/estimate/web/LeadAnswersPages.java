package org.earslot.estimate.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Fits;
import org.earslot.estimate.LeadAnswers;
import org.earslot.estimate.LeadAnswers.Kind;
import org.earslot.estimate.LeadAnswers.Minutes;
import org.earslot.estimate.LeadKnowledge;
import org.earslot.estimate.Snapshot;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.Messages;
import org.hibernate.validator.constraints.Range;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Asks the lead what visits take, shows what the answers imply, and undoes the last change. */
@Controller
@RequestMapping("/estimator/answers")
@PreAuthorize("hasRole('LEAD')")
class LeadAnswersPages {

    private static final String PAGE = "redirect:/estimator/answers";
    private static final DateTimeFormatter WHEN = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

    /** Minutes of one kind. */
    record MinutesForm(
            @Range(min = LeadAnswers.LEAST, max = LeadAnswers.MOST) @Nullable
            Integer usual,

            @Range(min = LeadAnswers.LEAST, max = LeadAnswers.MOST) @Nullable
            Integer over) {}

    private final LeadKnowledge knowledge;
    private final Fits fits;
    private final Practitioners practitioners;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    LeadAnswersPages(
            LeadKnowledge knowledge,
            Fits fits,
            Practitioners practitioners,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.knowledge = knowledge;
        this.fits = fits;
        this.practitioners = practitioners;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping
    String show(Model model) {
        FormFields fields = new FormFields();
        knowledge.answers(current.id()).minutes().forEach((kind, minutes) -> {
            fields.put("usual-" + kind.code(), minutes.usual());
            fields.put("over-" + kind.code(), minutes.oneInTenOver());
        });
        model.addAttribute("problems", Map.of());
        return page(model, fields);
    }

    @PostMapping
    String say(Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        SortedMap<Kind, Minutes> minutes = new TreeMap<>();
        for (Kind kind : Kind.all()) {
            MinutesForm given = form.read(MinutesForm.class, name -> name + "-" + kind.code());
            Integer over = given.over();
            if (given.usual() != null) {
                minutes.put(kind, new Minutes(given.usual(), over));
                if (over != null && over <= given.usual()) {
                    form.problem("over-" + kind.code(), "estimate.answers.allowed.over", given.usual());
                }
            } else if (over != null) {
                form.problem("usual-" + kind.code(), "estimate.answers.allowed.usual");
            }
        }
        if (!form.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            model.addAttribute("problems", form.byField());
            return page(model, form.fields());
        }
        knowledge.say(current.id(), new LeadAnswers(minutes), current.who());
        redirect.addFlashAttribute("notice", messages.say("estimate.answers.saved"));
        return PAGE;
    }

    @PostMapping("/undo")
    String undo(RedirectAttributes redirect) {
        if (knowledge.undo(current.id(), current.who())) {
            redirect.addFlashAttribute("notice", messages.say("estimate.answers.undone"));
        }
        return PAGE;
    }

    private String page(Model model, FormFields fields) {
        LeadAnswers answers = knowledge.answers(current.id());
        Map<Kind, Estimate> implied = knowledge.implied(current.id(), answers);
        model.addAttribute("values", fields);
        model.addAttribute("methods", methods(answers));
        model.addAttribute("abouts", LeadAnswers.About.values());
        model.addAttribute("answers", answers.minutes());
        model.addAttribute("implied", implied);
        model.addAttribute("until", implied.values().stream().findFirst().map(Estimate::restsOn));
        model.addAttribute(
                "visits", fits.inForce(current.id()).map(Snapshot::visits).orElse(0));
        knowledge.latest(current.id()).ifPresent(said -> {
            model.addAttribute("said", said);
            model.addAttribute("saidOn", when(said.at()));
        });
        return "estimate/answers";
    }

    /** Those that somebody here is trained in, or that something was said of; all of them where nobody is. */
    private List<Method> methods(LeadAnswers answers) {
        Set<Method> asked = practitioners.findByClinicIdOrderByName(current.id()).stream()
                .filter(Practitioner::active)
                .flatMap(one -> one.methods().stream())
                .collect(Collectors.toSet());
        answers.minutes().keySet().forEach(kind -> asked.add(kind.method()));
        return Arrays.stream(Method.values())
                .filter(method -> asked.isEmpty() || asked.contains(method))
                .toList();
    }

    private String when(Instant at) {
        return WHEN.format(clock.local(current.id(), at));
    }
}
