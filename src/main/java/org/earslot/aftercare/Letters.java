package org.earslot.aftercare;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The wording of letters: the defaults, replaced where the lead has said so, with fields in braces. */
@Service
public class Letters {

    private static final Pattern FIELD = Pattern.compile("\\{([^{}]*)}");

    /** A line of nothing but how the clinic is reached. */
    private static final Pattern LETTERHEAD = Pattern.compile("\\s*(\\{(phone|address|hours)}[\\s,]*)+");

    private final LetterTexts texts;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Letters(LetterTexts texts, ClinicClock clock, ApplicationEventPublisher events) {
        this.texts = texts;
        this.clock = clock;
        this.events = events;
    }

    /** The words in force. */
    @Transactional(readOnly = true)
    public String body(ClinicId clinicId, LetterKind kind) {
        return texts.findByClinicIdAndKind(clinicId, kind.code())
                .map(LetterText::body)
                .orElseGet(() -> standard(kind));
    }

    /** Says it so from now on. Returns the first field that there is none of, and then changes nothing. */
    @Transactional
    public Optional<String> say(ClinicId clinicId, LetterKind kind, String body, String who) {
        Optional<String> unknown = FIELD.matcher(body)
                .results()
                .map(found -> found.group(1))
                .filter(field -> !kind.fields().contains(field))
                .findFirst();
        if (unknown.isPresent()) {
            return unknown;
        }
        String lines = body.replace("\r\n", "\n");
        texts.findByClinicIdAndKind(clinicId, kind.code())
                .ifPresentOrElse(
                        own -> own.say(lines, who, clock.now()),
                        () -> texts.save(new LetterText(clinicId, kind, lines, who, clock.now())));
        events.publishEvent(new Audited.Entry(clinicId, "letter-worded", "set-up", kind.code(), null));
        return Optional.empty();
    }

    /** The fields of a letter that are really in it. */
    public List<String> chosen(String body) {
        return FIELD.matcher(body)
                .results()
                .map(found -> found.group(1))
                .distinct()
                .toList();
    }

    /**
     * The paragraphs, the fields filled in; a field of which nothing is known reads as a dash, and a line that holds only how
     * the clinic is reached is left out. What a field holds is never taken for a field itself.
     */
    public List<String> filled(String body, Map<String, String> values) {
        String lines = body.lines()
                .filter(line -> !(LETTERHEAD.matcher(line).matches()
                        && chosen(line).stream()
                                .allMatch(
                                        field -> values.getOrDefault(field, "").isBlank())))
                .collect(Collectors.joining("\n"));
        String filled = FIELD.matcher(lines).replaceAll(field -> Matcher.quoteReplacement(value(field, values)));
        return Arrays.stream(filled.strip().split("\n\\s*\n"))
                .map(String::strip)
                .toList();
    }

    private static String value(MatchResult field, Map<String, String> values) {
        String value = values.getOrDefault(field.group(1), "");
        return value.isBlank() ? "–" : value;
    }

    /** The words that come with the program. */
    static String standard(LetterKind kind) {
        try (InputStream in = Letters.class.getResourceAsStream("/letters/" + kind.code() + ".txt")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
