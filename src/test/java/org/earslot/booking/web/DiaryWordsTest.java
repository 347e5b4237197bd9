package org.earslot.booking.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.Constructor;
import java.lang.reflect.RecordComponent;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.BookingRefusal;
import org.earslot.ear.Method;
import org.earslot.page.Refused;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.springframework.context.support.ResourceBundleMessageSource;

/** Everything that the diary may refuse can be said. */
class DiaryWordsTest {

    private static final ResourceBundleMessageSource MESSAGES = messages();

    private final DiaryWords words = new DiaryWords(MESSAGES);

    static Stream<BookingRefusal> refusals() {
        return Arrays.stream(BookingRefusal.class.getPermittedSubclasses())
                .flatMap(type -> Stream.of(0, 1, 3).map(count -> made(type, count)))
                .distinct();
    }

    @ParameterizedTest
    @MethodSource("refusals")
    void says_every_refusal(BookingRefusal refusal) {
        String said = words.say(refusal);
        assertThat(said).endsWith(".").doesNotContain("{", "}", "booking.refusal", "null", "''");
        Refused refused = words.refused(List.of(refusal));
        assertThat(refused.getMessage()).isNotBlank();
        assertThat(refused.status()).isBetween(400, 499);
    }

    @Test
    void chooses_words_by_number() {
        assertThat(words.say(new BookingRefusal.VisitsUnfinished(1))).startsWith("One visit has");
        assertThat(words.say(new BookingRefusal.VisitsUnfinished(3))).startsWith("3 visits have");
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

    private static ResourceBundleMessageSource messages() {
        ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
        messages.setBasenames("messages/booking", "messages/words");
        messages.setDefaultEncoding("UTF-8");
        messages.setAlwaysUseMessageFormat(true);
        return messages;
    }
}
