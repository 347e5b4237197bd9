package org.earslot.account.web;

import java.time.DateTimeException;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Pattern;
import org.earslot.account.GuessedPasswords;
import org.earslot.clinic.ClinicContact;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Problems;
import org.earslot.page.Reading;

/** Reads the fields of this room's forms and gathers every problem. */
class Checks extends Problems {

    static final int SHORTEST_PASSWORD = 12;
    static final int LONGEST_PASSWORD = 128;

    private static final Pattern SIGN_IN_NAME = Pattern.compile("[\\p{L}\\p{N}._-]{3,60}");
    private static final int LONGEST_NAME = 80;

    private final Messages messages;

    Checks(Messages messages) {
        this.messages = messages;
    }

    /** A problem with the field labelled {@code account.FIELD}, its words under {@code account.problem.WHAT}. */
    static Problem problem(Messages messages, String field, String given, String what) {
        return new Problem(
                messages.say("account." + field),
                given,
                Messages.text("account.problem." + what + ".allowed"),
                Messages.text("account.problem." + what + ".remedy"));
    }

    void problem(String field, String given, String what) {
        add(problem(messages, field, given, what));
    }

    String signInName(String text) {
        String name = text.strip().toLowerCase(Locale.ROOT);
        if (!SIGN_IN_NAME.matcher(name).matches()) {
            problem("signInName", name, "signInName");
        }
        return name;
    }

    String name(String field, String text) {
        String name = text.strip();
        if (name.isEmpty() || name.length() > LONGEST_NAME || !Reading.isLine(name)) {
            problem(field, name, "name");
        }
        return name;
    }

    ZoneId zone(String text) {
        try {
            return ZoneId.of(text.strip());
        } catch (DateTimeException e) {
            problem("timeZone", text, "timeZone");
            return ZoneId.of("UTC");
        }
    }

    /** How a clinic is reached; each part may be left empty. */
    ClinicContact contact(String phone, String address, String openingHours) {
        Reading reading = new Reading();
        ClinicContact contact = ClinicContact.read(reading, phone, address, openingHours);
        add(reading.problems());
        return contact;
    }

    /** A password newly chosen, twice the same; never repeated in a problem. */
    void chosenPassword(String chosen, String repeated, String signInName, String clinicName) {
        boolean oneCharacter = chosen.chars().distinct().count() < 4;
        if (chosen.length() < SHORTEST_PASSWORD || chosen.length() > LONGEST_PASSWORD || oneCharacter) {
            problem("newPassword", "", "newPassword");
        } else if (!signInName.isEmpty() && chosen.toLowerCase(Locale.ROOT).contains(signInName)) {
            problem("newPassword", "", "passwordHoldsName");
        } else if (GuessedPasswords.contain(chosen, List.of(signInName, clinicName))) {
            problem("newPassword", "", "guessedPassword");
        }
        if (!chosen.equals(repeated)) {
            problem("repeatedPassword", "", "repeatedPassword");
        }
    }

    static Optional<UUID> id(String text) {
        try {
            return text.isBlank() ? Optional.empty() : Optional.of(UUID.fromString(text.strip()));
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }
}
