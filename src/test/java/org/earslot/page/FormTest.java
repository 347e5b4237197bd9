package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import jakarta.validation.Validation;
import jakarta.validation.ValidatorFactory;
import jakarta.validation.constraints.NotNull;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.hibernate.validator.constraints.Range;
import org.hibernate.validator.messageinterpolation.ParameterMessageInterpolator;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.springframework.context.support.ResourceBundleMessageSource;

class FormTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final Forms FORMS = new Forms(validation());
    private static final Messages MESSAGES = new Messages(messages());

    /** A problem as it is read. */
    record Said(String field, String given, String allowed, String remedy) {}

    private static Said said(Problem problem) {
        return new Said(
                problem.field(), problem.given(), MESSAGES.say(problem.allowed()), MESSAGES.say(problem.remedy()));
    }

    /** One of each. */
    record Visit(
            @PlainText(max = 5) @Nullable String name,
            @PlainText(max = 5, lines = true) @Nullable String note,

            @NotNull(message = "{referral.allowed.method}") @Nullable
            Method method,

            Answer answer,
            @Range(min = 0, max = 365) @Nullable Integer days,

            @DateRange(from = "2000-01-01", to = "P0D") @Nullable
            LocalDate on,

            @DateRange(from = "-P1Y", to = "P2Y", personal = true) @Nullable
            LocalDate born,

            @Nullable LocalTime at,
            @Nullable UUID id,
            boolean asked) {

        Visit {
            answer = answer == null ? Answer.NOT_KNOWN : answer;
        }
    }

    @Test
    void reads_what_is_right_and_strips_it() {
        UUID id = UUID.randomUUID();
        Form form = form(Map.of(
                "name", " Wren ",
                "note", "a\nb",
                "method", "irrigation",
                "days", "5",
                "on", "2026-03-03",
                "at", "09:30",
                "id", id.toString(),
                "asked", "yes"));
        assertThat(form.read(Visit.class))
                .isEqualTo(new Visit(
                        "Wren",
                        "a\nb",
                        Method.IRRIGATION,
                        Answer.NOT_KNOWN,
                        5,
                        TODAY,
                        null,
                        LocalTime.of(9, 30),
                        id,
                        true));
        assertThat(form.clean()).isTrue();
    }

    @Test
    void reports_all_problems_at_once_in_the_order_of_the_record_with_our_texts() {
        Form form = form(Map.of(
                "name", "too long",
                "note", "a\0b",
                "answer", "YES",
                "days", "366",
                "on", "2026-03-04",
                "born", "30/02/1960",
                "at", "9",
                "id", "x"));
        Visit read = form.read(Visit.class);
        assertThat(read.method()).isNull();
        assertThat(form.problems().stream().map(FormTest::said))
                .containsExactly(
                        new Said("name", "", "at most 5 characters", "shorten it from 8"),
                        new Said("note", "", "text without control characters", "type it again"),
                        new Said("method", "", "irrigation, microsuction or manual removal", "choose the method"),
                        new Said("answer", "YES", "one of yes, no, not_known", "choose one of these"),
                        new Said("days", "366", "a whole number from 0 to 365", "correct it"),
                        new Said(
                                "on",
                                "2026-03-04",
                                "a date from 2000-01-01 to 2026-03-03, as in 2026-04-14",
                                "correct it"),
                        new Said("born", "", "a date from 2025-03-03 to 2028-03-03, as in 2026-04-14", "correct it"),
                        new Said("at", "9", "a time from 00:00 to 23:59, as in 09:30", "correct it"),
                        new Said("id", "x", "an id as the program gave it", "correct it"));
    }

    @Test
    void reads_the_fields_that_it_is_told_to() {
        Form form = form(Map.of("method", "laser", "planned", "microsuction"));
        assertThat(form.read(Visit.class, name -> name.equals("method") ? "planned" : name)
                        .method())
                .isEqualTo(Method.MICROSUCTION);
        form.read(Visit.class);
        assertThat(form.byField()).containsOnlyKeys("method");
    }

    @Test
    void gathers_at_most_200_problems() {
        Form form = form(Map.of());
        for (int i = 0; i < 300; i++) {
            form.read(Visit.class);
        }
        assertThat(form.problems()).hasSize(Problems.MOST);
    }

    /** The values of one field, read by hand and bound: 3,000 at random, seed 11. */
    @Test
    void reads_and_refuses_as_the_reading_by_hand_does() {
        Random random = new Random(11);
        String letters = "019-:.,yesnoirgatx \n\t\0\u202E";
        List<String> seeds = List.of(
                "yes", "not_known", "irrigation", "2026-03-03", "2000-01-01", "1999-12-31", "365", "0", "09:30", "+5");
        for (int i = 0; i < 3_000; i++) {
            StringBuilder text = new StringBuilder(random.nextBoolean() ? seeds.get(random.nextInt(seeds.size())) : "");
            for (int at = random.nextInt(4); at > 0; at--) {
                text.insert(random.nextInt(text.length() + 1), letters.charAt(random.nextInt(letters.length())));
            }
            String given = text.toString();
            Form form = form(Map.of(
                    "name", given, "note", given, "method", given, "answer", given, "days", given, "on", given, "born",
                    given, "at", given));
            Visit read = form.read(Visit.class);
            Reading reading = new Reading();
            Visit byHand = new Visit(
                    reading.text("name", given, 5).orElse(null),
                    reading.lines("note", given, 5).orElse(null),
                    reading.required(
                                    "method",
                                    reading.word("method", given, Method::of, Word.codes(Method.values())),
                                    "referral.allowed.method")
                            .orElse(null),
                    reading.word("answer", given, Answer::of, Word.codes(Answer.values()))
                            .orElse(Answer.NOT_KNOWN),
                    reading.whole("days", given, 0, 365).orElse(null),
                    reading.date("on", given, LocalDate.of(2000, 1, 1), TODAY).orElse(null),
                    reading.dateOfBirth("born", given, TODAY.minusYears(1), TODAY.plusYears(2))
                            .orElse(null),
                    reading.time("at", given).orElse(null),
                    null,
                    false);
            // Bound, a choice that is missing says what to choose.
            assertThat(form.problems().stream().map(FormTest::said))
                    .as(given)
                    .containsExactlyElementsOf(reading.problems().stream()
                            .map(FormTest::said)
                            .map(each -> each.remedy().equals("fill it in")
                                    ? new Said(each.field(), each.given(), each.allowed(), "choose the method")
                                    : each)
                            .toList());
            if (reading.clean()) {
                assertThat(read).as(given).isEqualTo(byHand);
            }
        }
    }

    private static Form form(Map<String, String> typed) {
        return FORMS.of(FormFields.single(typed));
    }

    private static ValidatorFactory validation() {
        Instant now = TODAY.atTime(12, 0).toInstant(ZoneOffset.UTC);
        return Validation.byDefaultProvider()
                .configure()
                .clockProvider(() -> Clock.fixed(now, ZoneOffset.UTC))
                .messageInterpolator(new ParameterMessageInterpolator())
                .buildValidatorFactory();
    }

    private static ResourceBundleMessageSource messages() {
        ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
        messages.setBasenames("messages/page", "messages/referral");
        messages.setAlwaysUseMessageFormat(true);
        return messages;
    }
}
