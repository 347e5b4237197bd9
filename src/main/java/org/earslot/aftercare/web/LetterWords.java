package org.earslot.aftercare.web;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.caution.AskedCaution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.earslot.page.Messages;
import org.jspecify.annotations.Nullable;

/** The trade's words as letters say them. */
record LetterWords(Messages messages) {

    static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM yyyy", Locale.ENGLISH);

    /** A method, in plain words for a patient. */
    String method(Method method, boolean toPatient) {
        return toPatient ? messages.say("aftercare.letter.method." + method.code()) : messages.word(method);
    }

    String methods(List<Method> methods, boolean toPatient) {
        return methods.isEmpty()
                ? "–"
                : methods.stream().map(one -> method(one, toPatient)).collect(Collectors.joining(", "));
    }

    /** "Perforation (right ear), tinnitus": cautions with the ear they belong to; then codes that are not known here. */
    String cautions(List<AskedCaution> cautions, List<UnknownCode> unknown) {
        return Stream.concat(
                        cautions.stream().map(this::caution),
                        unknown.stream().map(code -> messages.say("aftercare.letter.unknown") + ": " + code.shown()))
                .distinct()
                .collect(Collectors.joining(", "));
    }

    private String caution(AskedCaution asked) {
        Ear ear = asked.ear();
        return messages.word(asked.caution()) + (ear == null ? "" : " (" + messages.word(ear) + ")");
    }

    static String day(@Nullable LocalDate date) {
        return date == null ? "" : DAY.format(date);
    }

    static String text(@Nullable String text) {
        return text == null ? "" : text;
    }

    String ears(@Nullable Ears ears) {
        return ears == null ? "" : messages.say("aftercare.letter.ears." + ears.code());
    }
}
