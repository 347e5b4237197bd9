package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.ear.Ear;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.page.web.FigureDialect;
import org.junit.jupiter.api.Test;
import org.springframework.context.support.ResourceBundleMessageSource;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;

/** The panel words every line and every question there can be. */
class PanelTest {

    private static ResourceBundleMessageSource messages() {
        ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
        messages.setBasenames("messages/estimate", "messages/words");
        messages.setFallbackToSystemLocale(false);
        messages.setDefaultEncoding("UTF-8");
        return messages;
    }

    private static String rendered(Estimate estimate) {
        ClassLoaderTemplateResolver templates = new ClassLoaderTemplateResolver();
        templates.setPrefix("templates/");
        templates.setSuffix(".html");
        SpringTemplateEngine engine = new SpringTemplateEngine();
        engine.setTemplateResolver(templates);
        engine.addDialect(new FigureDialect());
        engine.setTemplateEngineMessageSource(messages());
        Context context = new Context(Locale.ENGLISH);
        context.setVariable("estimate", estimate);
        return engine.process("estimate/panel", Set.of("panel"), context);
    }

    private static Estimate estimate(List<WhyLine> why, List<Question> ask, int visits) {
        LogNormalMinutes minutes = LogNormalMinutes.ofMoments(20, 8);
        return new Estimate("v", minutes, minutes, 30, 4, why, ask, Estimate.RestsOn.visits(visits), 0.1);
    }

    @Test
    void says_what_it_rests_on() {
        assertThat(rendered(restingOn(0, 0))).contains("No past visits yet.").doesNotContain("the lead says");
        assertThat(rendered(restingOn(0, 45)))
                .contains("After about 45 past visits")
                .doesNotContain("No past visits yet.");
        assertThat(rendered(restingOn(12, 45))).contains("Rests on 12 past visits and on what the lead says");
        assertThat(rendered(restingOn(45, 45)))
                .contains("Rests on 45 past visits of this clinic.")
                .doesNotContain("lead");
    }

    private static Estimate restingOn(int visits, long answersCountUntil) {
        LogNormalMinutes minutes = LogNormalMinutes.ofMoments(20, 8);
        Estimate.RestsOn restsOn = new Estimate.RestsOn(visits, answersCountUntil);
        return new Estimate("v", minutes, minutes, 30, 4, List.of(), List.of(), restsOn, 0.1);
    }

    @Test
    void leaves_out_what_adds_nothing_and_shows_no_zero_with_a_minus() {
        String page = rendered(estimate(
                List.of(
                        new WhyLine(ItemKind.FACTOR, Ear.RIGHT, "wax", "hard", -0.04, -0.2, 0.02),
                        new WhyLine(ItemKind.FACTOR, Ear.RIGHT, "canal", "narrow", -0.04, -0.04, 0.04)),
                List.of(),
                9));
        assertThat(page)
                .contains("right ear: hard wax", ">0.0<", ">-0.2 to 0.0<")
                .doesNotContain("narrow canal", "-0.0");
    }

    private static WhyLine line(ItemKind kind, Ear ear, String subject, String level) {
        return new WhyLine(kind, ear, subject, level, 1.25, -0.5, 2);
    }

    @Test
    void keeps_words_of_the_picture_clear_of_the_slots_line() {
        LogNormalMinutes minutes = LogNormalMinutes.ofMoments(20, 8);
        Picture close = new Estimate(
                        "v", minutes, minutes, 25, 4, List.of(), List.of(), Estimate.RestsOn.visits(9), 0.1)
                .picture();
        assertThat(close.slot()).isBetween(close.fourInFive() - 44, close.fourInFive());
        assertThat(close.labelToTheRight()).isTrue();
        assertThat(close.labelBeside()).isGreaterThan(close.fourInFive());
        Picture apart = new Estimate(
                        "v", minutes, minutes, 35, 4, List.of(), List.of(), Estimate.RestsOn.visits(9), 0.1)
                .picture();
        assertThat(apart.labelToTheRight()).isFalse();
        assertThat(apart.labelBeside()).isLessThan(apart.fourInFive());
    }

    @Test
    void words_each_kind_of_line() {
        String page = rendered(estimate(
                List.of(
                        line(ItemKind.ONCE, null, "", ""),
                        line(ItemKind.PART, Ear.RIGHT, "microsuction", ""),
                        line(ItemKind.FACTOR, Ear.RIGHT, "wax", "hard"),
                        line(ItemKind.FACTOR, Ear.LEFT, "wax", ""),
                        line(ItemKind.FACTOR, Ear.LEFT, "canal", "very_narrow"),
                        line(ItemKind.FACTOR, Ear.LEFT, "softener", "days_3_4"),
                        line(ItemKind.FACTOR, null, "first_visit", "yes"),
                        line(ItemKind.FACTOR, null, "caution.tinnitus", "yes"),
                        line(ItemKind.FACTOR, null, "something_else", "high"),
                        line(ItemKind.GROUP, null, "", ""),
                        line(ItemKind.PERSON, null, "", ""),
                        line(ItemKind.UNKNOWN, null, "", "")),
                List.of(),
                2400));
        assertThat(page)
                .contains(
                        ">greeting, consent, otoscopy and advice<",
                        ">right ear, microsuction<",
                        ">right ear: hard wax<",
                        ">left ear: consistency not known<",
                        ">left ear: very narrow canal<",
                        ">left ear: softener for 3 or 4 days<",
                        ">first visit: yes<",
                        ">tinnitus<",
                        ">something else: high<",
                        ">this practitioner&#39;s own pace<",
                        ">this patient&#39;s own past visits<",
                        ">what is not known<",
                        ">-0.5 to 2.0<")
                .contains("Book 30 min", "Usually 19; 1 in 5 takes longer.", ">18.6<", "Rests on 2,400 past visits")
                .doesNotContain("??", "Worth asking");
    }

    @Test
    void names_the_three_largest_reasons_while_all_are_closed() {
        String page = rendered(estimate(
                List.of(
                        new WhyLine(ItemKind.ONCE, null, "", "", 9, 8, 10),
                        new WhyLine(ItemKind.FACTOR, Ear.RIGHT, "wax", "hard", 2.2, 1, 3),
                        new WhyLine(ItemKind.FACTOR, Ear.RIGHT, "canal", "narrow", -6.4, -8, -5),
                        new WhyLine(ItemKind.FACTOR, null, "first_visit", "yes", 1.1, 0, 2),
                        new WhyLine(ItemKind.FACTOR, null, "hearing_aid", "", 5, 4, 6),
                        new WhyLine(ItemKind.FACTOR, null, "caution.tinnitus", "yes", 0.9, 0, 2)),
                List.of(),
                9));
        String closed = page.substring(page.indexOf("<summary>"), page.indexOf("</summary>"));
        assertThat(closed.replaceAll("<[^>]*>", "").replaceAll("\\s+", " "))
                .contains("Why this long: right ear: narrow canal −6, right ear: hard wax +2, first visit: yes +1");
    }

    @Test
    void does_not_ask_what_would_hardly_narrow_it() {
        assertThat(rendered(
                        estimate(List.of(), List.of(new Question(Ear.LEFT, "wax", WhoCanAnswer.REFERRER, 0.94)), 1)))
                .doesNotContain("Worth asking");
    }

    @Test
    void says_how_often_it_takes_longer_than_the_slot() {
        LogNormalMinutes minutes = LogNormalMinutes.ofMoments(20, 8);
        assertThat(SlotSummary.of(minutes, 60, 4).key()).isEqualTo("estimate.summary.hardly");
        SlotSummary tight = SlotSummary.of(minutes, 20, 4);
        assertThat(tight.key()).isEqualTo("estimate.summary.percent");
        assertThat(tight.rate() / 100.0).isCloseTo(1 - minutes.cdf(16), within(0.005));
        SlotSummary usual = SlotSummary.of(minutes, 29, 4);
        assertThat(usual.key()).isEqualTo("estimate.summary.oneIn");
        assertThat(1.0 / usual.rate()).isCloseTo(1 - minutes.cdf(25), within(0.03));
    }

    @Test
    void words_the_next_question_and_who_can_answer() {
        String page =
                rendered(estimate(List.of(), List.of(new Question(Ear.LEFT, "wax", WhoCanAnswer.REFERRER, 1.84)), 1));
        assertThat(page)
                .contains(
                        "What is the wax like, left ear: loose, soft, sticky, firm or hard?",
                        "Who can answer: the referrer",
                        "narrows this by about 2 min",
                        "Rests on 1 past visit of")
                .doesNotContain("??");
    }

    @Test
    void says_so_where_nothing_was_learnt_yet() {
        assertThat(rendered(estimate(List.of(), List.of(), 0))).contains("No past visits yet");
    }

    @Test
    void draws_the_slot_by_geometry_alone() {
        String page = rendered(estimate(List.of(), List.of(), 0));
        assertThat(page).contains("slot 30 min", "d=\"M0 122").doesNotContain("style=", "onclick");
    }

    @Test
    void words_every_factor_known_and_not_known_and_its_question() {
        ResourceBundleMessageSource messages = messages();
        for (String factor : List.of(
                "wax",
                "canal",
                "depth",
                "occlusion",
                "softener",
                "far",
                "side",
                "change",
                "first_visit",
                "hearing_aid",
                "caution.fainting",
                "other")) {
            for (String level : List.of("", "yes")) {
                assertThat(messages.getMessage(line(ItemKind.FACTOR, Ear.LEFT, factor, level), Locale.ENGLISH))
                        .isNotBlank();
            }
            assertThat(messages.getMessage(
                            new Question(Ear.LEFT, factor, WhoCanAnswer.PATIENT, 1).key(),
                            new Object[] {"", ""},
                            Locale.ENGLISH))
                    .isNotBlank();
        }
    }
}
