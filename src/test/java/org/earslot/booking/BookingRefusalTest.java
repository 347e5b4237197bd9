package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.Constructor;
import java.lang.reflect.RecordComponent;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.ear.Method;
import org.earslot.page.Messages;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.springframework.context.support.ResourceBundleMessageSource;

/** Everything that the diary may refuse can be said, and has the code that programs know. */
class BookingRefusalTest {

    private static final ResourceBundleMessageSource TEXTS = texts();

    private final Messages messages = new Messages(TEXTS);

    static Stream<BookingRefusal> refusals() {
        return Arrays.stream(BookingRefusal.class.getPermittedSubclasses())
                .flatMap(type -> Stream.of(0, 1, 3).map(count -> made(type, count)))
                .distinct();
    }

    @ParameterizedTest
    @MethodSource("refusals")
    void says_every_refusal(BookingRefusal refusal) {
        String said = messages.say(refusal);
        assertThat(said).endsWith(".").doesNotContain("{", "}", "booking.refusal", "null", "''");
        assertThat(messages.find(refusal.messageKey() + ".remedy")).isPresent();
        Refused refused = Refused.of(List.of(refusal), messages);
        assertThat(refused.getMessage()).isNotBlank();
        assertThat(refused.status()).isBetween(400, 499);
    }

    /** These are part of the interface for programs: one that is missing or changed here breaks theirs. */
    @Test
    void the_codes_and_status_are_those_that_programs_know() {
        Stream<BookingRefusal> gone = Stream.of(new BookingRefusal.Unknown("appointment"));
        assertThat(Stream.concat(refusals(), gone)
                        .map(refusal -> refusal.code() + " " + Reason.status(List.of(refusal)))
                        .distinct())
                .containsExactlyInAnyOrder(
                        "age-not-seen 422",
                        "already-booked 409",
                        "changed-meanwhile 409",
                        "clocks-change 400",
                        "day-closed 409",
                        "day-not-closed 409",
                        "day-not-over 409",
                        "in-the-past 400",
                        "key-of-another-press 409",
                        "method-contraindicated 422",
                        "method-not-held 422",
                        "no-reason 400",
                        "not-before-start 400",
                        "not-now 409",
                        "nothing-to-record 409",
                        "off-grid 400",
                        "open-visits-not-confirmed 409",
                        "outside-session 422",
                        "patient-deceased 409",
                        "patient-not-asked 409",
                        "press-too-old 400",
                        "red-flag-open 409",
                        "red-flag-to-be-seen 409",
                        "red-flags-not-asked 409",
                        "referral-not-ready 409",
                        "slot-length-out-of-range 400",
                        "slot-taken 409",
                        "softener-not-over 422",
                        "span-out-of-reason 400",
                        "time-not-of-the-day 400",
                        "times-out-of-order 400",
                        "too-far-ahead 400",
                        "unknown 400",
                        "unknown 404",
                        "visits-open 409",
                        "visits-unfinished 409");
    }

    @Test
    void chooses_words_by_number() {
        assertThat(messages.say(new BookingRefusal.VisitsUnfinished(1))).startsWith("One visit has");
        assertThat(messages.say(new BookingRefusal.VisitsUnfinished(3))).startsWith("3 visits have");
    }

    @Test
    void names_every_type_of_refusal() {
        assertThat(refusals().map(Object::getClass).distinct())
                .hasSameSizeAs(BookingRefusal.class.getPermittedSubclasses());
    }

    private static BookingRefusal made(Class<?> type, int count) {
        try {
            RecordComponent[] parts = type.getRecordComponents();
            Constructor<?> constructor = type.getDeclaredConstructor(
                    Arrays.stream(parts).map(RecordComponent::getType).toArray(Class<?>[]::new));
            constructor.setAccessible(true);
            return (BookingRefusal) constructor.newInstance(Arrays.stream(parts)
                    .map(part -> value(part.getType(), count))
                    .toArray());
        } catch (ReflectiveOperationException e) {
            throw new AssertionError("cannot make a " + type.getSimpleName(), e);
        }
    }

    private static Object value(Class<?> type, int count) {
        if (type == int.class) {
            return count;
        }
        if (type == long.class) {
            return (long) count;
        }
        if (type == String.class) {
            return "start";
        }
        if (type == UUID.class) {
            return new UUID(0, count);
        }
        if (type == LocalDate.class) {
            return LocalDate.of(2026, 3, 3);
        }
        if (type == LocalTime.class) {
            return LocalTime.of(10, 20);
        }
        if (type == Method.class) {
            return Method.MICROSUCTION;
        }
        if (type == AppointmentStatus.class) {
            return AppointmentStatus.CANCELLED;
        }
        throw new AssertionError("give a value of " + type);
    }

    private static ResourceBundleMessageSource texts() {
        ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
        messages.setBasenames("messages/booking", "messages/words");
        messages.setDefaultEncoding("UTF-8");
        messages.setAlwaysUseMessageFormat(true);
        return messages;
    }
}
