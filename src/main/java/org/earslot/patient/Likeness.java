package org.earslot.patient;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * In what two records are alike.
 *
 * @param alike what agrees, slips of spelling allowed
 */
record Likeness(Set<Trait> alike) {

    private static final Pattern NOT_DIGITS = Pattern.compile("\\D");
    /** Numbers are compared without the country's or the trunk's prefix. */
    private static final int DIGITS_COMPARED = 9;
    /** Fewer digits are no number. */
    private static final int FEWEST_DIGITS = 6;

    /** What can agree. */
    enum Trait {
        NAME,
        DATE_OF_BIRTH,
        PHONE
    }

    Likeness {
        alike = Set.copyOf(alike);
    }

    static Likeness of(PatientDetails one, PatientDetails other) {
        Set<Trait> alike = EnumSet.noneOf(Trait.class);
        if (names(one, other)) {
            alike.add(Trait.NAME);
        }
        if (births(one.dateOfBirth(), other.dateOfBirth())) {
            alike.add(Trait.DATE_OF_BIRTH);
        }
        if (phones(one.contact(), other.contact())) {
            alike.add(Trait.PHONE);
        }
        return new Likeness(alike);
    }

    /**
     * Whether it may be one person: two of the three agree, or the name alone where one of the two dates of birth is not
     * known and no two telephone numbers differ.
     */
    boolean maybeOnePerson(PatientDetails one, PatientDetails other) {
        if (alike.size() >= 2) {
            return true;
        }
        boolean birthOpen = one.dateOfBirth() == null || other.dateOfBirth() == null;
        boolean phoneOpen =
                digits(one.contact()).isEmpty() || digits(other.contact()).isEmpty();
        return alike.contains(Trait.NAME) && birthOpen && phoneOpen;
    }

    private static boolean names(PatientDetails one, PatientDetails other) {
        String family = text(one.familyName());
        String given = text(one.givenName());
        String otherFamily = text(other.familyName());
        String otherGiven = text(other.givenName());
        boolean straight = Spelling.alike(family, otherFamily) && given(given, otherGiven);
        boolean exchanged = Spelling.alike(family, otherGiven) && Spelling.alike(given, otherFamily);
        return straight || exchanged;
    }

    /** Given names also agree where one is not known or an initial only. */
    private static boolean given(String one, String other) {
        String a = Spelling.plain(one);
        String b = Spelling.plain(other);
        if (a.isEmpty() || b.isEmpty()) {
            return true;
        }
        boolean initial = (a.length() == 1 || b.length() == 1) && a.charAt(0) == b.charAt(0);
        return initial || Spelling.alike(a, b);
    }

    /** The same day, day and month exchanged, or one digit off. */
    private static boolean births(@Nullable LocalDate one, @Nullable LocalDate other) {
        if (one == null || other == null) {
            return false;
        }
        boolean exchanged = one.getYear() == other.getYear()
                && one.getDayOfMonth() == other.getMonthValue()
                && one.getMonthValue() == other.getDayOfMonth();
        String a = one.toString();
        String b = other.toString();
        long off = a.length() == b.length()
                ? IntStream.range(0, a.length())
                        .filter(i -> a.charAt(i) != b.charAt(i))
                        .count()
                : a.length();
        return exchanged || off <= 1;
    }

    private static boolean phones(@Nullable String one, @Nullable String other) {
        String a = digits(one);
        return !a.isEmpty() && a.equals(digits(other));
    }

    /** What telephone numbers are compared by; empty where there is none in the text. */
    static Optional<String> phoneKey(@Nullable String contact) {
        return Optional.of(digits(contact)).filter(digits -> !digits.isEmpty());
    }

    /** Every date of birth that is taken for the same, itself among them. */
    static Set<LocalDate> birthsAlike(LocalDate birth) {
        Set<LocalDate> alike = new HashSet<>(Set.of(birth));
        String written = birth.toString();
        for (int i = 0; i < written.length(); i++) {
            if (Character.isDigit(written.charAt(i))) {
                for (char digit = '0'; digit <= '9'; digit++) {
                    date(written.substring(0, i) + digit + written.substring(i + 1))
                            .ifPresent(alike::add);
                }
            }
        }
        if (birth.getDayOfMonth() <= 12) {
            date(String.format("%04d-%02d-%02d", birth.getYear(), birth.getDayOfMonth(), birth.getMonthValue()))
                    .ifPresent(alike::add);
        }
        return alike;
    }

    private static Optional<LocalDate> date(String written) {
        try {
            return Optional.of(LocalDate.parse(written));
        } catch (DateTimeParseException e) {
            return Optional.empty();
        }
    }

    private static String digits(@Nullable String contact) {
        String digits = contact == null ? "" : NOT_DIGITS.matcher(contact).replaceAll("");
        if (digits.length() < FEWEST_DIGITS) {
            return "";
        }
        return digits.substring(Math.max(0, digits.length() - DIGITS_COMPARED));
    }

    private static String text(@Nullable String name) {
        return name == null ? "" : name;
    }
}
