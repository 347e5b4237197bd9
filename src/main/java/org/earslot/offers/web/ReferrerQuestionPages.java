package org.earslot.offers.web;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.estimate.Question;
import org.earslot.estimate.WhoCanAnswer;
import org.earslot.offers.MethodChoices;
import org.earslot.page.Refused;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** One page to print for the referrer: only the questions that are open and would change the appointment. */
@Controller
class ReferrerQuestionPages {

    /** More would not be answered (common practice, no source). */
    private static final int MOST = 6;

    private static final Map<String, List<String>> WORDS = Map.of(
            "wax", words("Wax", Wax.values()),
            "canal", words("Canal", Canal.values()),
            "depth", words("Depth", Depth.values()),
            "occlusion", words("Occlusion", Occlusion.values()));

    private final MethodChoices choices;
    private final Referrals referrals;
    private final Patients patients;
    private final Clinics clinics;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    ReferrerQuestionPages(
            MethodChoices choices,
            Referrals referrals,
            Patients patients,
            Clinics clinics,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.choices = choices;
        this.referrals = referrals;
        this.patients = patients;
        this.clinics = clinics;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    @GetMapping("/slots/questions/{id}")
    String show(@PathVariable UUID id, Model model) {
        ClinicId clinic = current.id();
        Referral referral = referrals.findByClinicIdAndId(clinic, id).orElseThrow(() -> Refused.notFound("referral"));
        ReferralDetails said = referral.details();
        model.addAttribute("referral", referral);
        model.addAttribute("said", said);
        model.addAttribute(
                "patient",
                patients.findByClinicIdAndId(clinic, referral.patientId()).orElseThrow());
        model.addAttribute("clinic", clinics.findById(clinic).orElseThrow());
        model.addAttribute("today", clock.today(clinic));
        model.addAttribute("cautions", open(said));
        List<Question> questions = questions(referral);
        model.addAttribute("questions", questions);
        model.addAttribute("answers", answers(questions));
        events.publishEvent(Audited.viewed(clinic, "questions", List.of(referral.patientId())));
        return "offers/questions";
    }

    /** The cautions nobody has answered: all if the list was not read out. */
    private static List<Caution> open(ReferralDetails said) {
        return said.cautions().asked()
                ? said.cautions().notKnown().stream().sorted().toList()
                : Arrays.stream(Caution.values())
                        .filter(caution -> !said.cautions().confirmed().contains(caution))
                        .toList();
    }

    /** The words to tick, as message keys, by question; none if a number or a sentence is asked for. */
    private static Map<String, List<String>> answers(List<Question> questions) {
        return questions.stream()
                .filter(question -> WORDS.containsKey(question.factor()))
                .collect(Collectors.toMap(Question::finding, question -> WORDS.get(question.factor())));
    }

    private static List<String> words(String type, Word... words) {
        return Word.codes(words).stream().map(code -> type + "." + code).toList();
    }

    /** What the referrer can answer about the length, most useful first. */
    private List<Question> questions(Referral referral) {
        return choices.estimate(referral).ask().stream()
                .filter(question -> question.whoCanAnswer() == WhoCanAnswer.REFERRER)
                .limit(MOST)
                .toList();
    }
}
