package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;

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
        return new Estimate("v", minutes, minutes, 30, why, ask, visits, 0.1);
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
        Picture close = new Estimate("v", minutes, minutes, 25, List.of(), List.of(), 9, 0.1).picture();
        assertThat(close.slot()).isBetween(close.fourInFive() - 44, close.fourInFive());
        assertThat(close.labelToTheRight()).isTrue();
        assertThat(close.labelBeside()).isGreaterThan(close.fourInFive());
        Picture apart = new Estimate("v", minutes, minutes, 35, List.of(), List.of(), 9, 0.1).picture();
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
                .contains("Slot: 30 min", "4 in 5 finish within 26 min", ">18.6<", "Rests on 2,400 past visits")
                .doesNotContain("??", "Ask next");
    }

    @Test
    void words_the_next_question_and_who_can_answer() {
        String page =
                rendered(estimate(List.of(), List.of(new Question(Ear.LEFT, "wax", WhoCanAnswer.REFERRER, 0.84)), 1));
        assertThat(page)
                .contains(
                        "What is the wax like, left ear: loose, soft, sticky, firm or hard?",
                        "Who can answer: the referrer",
                        "narrows this by about 0.8 min",
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
