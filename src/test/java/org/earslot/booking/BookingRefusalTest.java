package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;
import static org.earslot.booking.BookingRefusalCode.IMPLAUSIBLE_SPAN;
import static org.earslot.booking.BookingRefusalCode.KEY_OF_ANOTHER_PRESS;
import static org.earslot.booking.BookingRefusalCode.NOTHING_TO_RECORD;
import static org.earslot.booking.BookingRefusalCode.NO_REASON;
import static org.earslot.booking.BookingRefusalCode.PATIENT_DECEASED;
import static org.earslot.booking.BookingRefusalCode.PATIENT_NOT_ASKED;
import static org.earslot.booking.BookingRefusalCode.RED_FLAGS_NOT_ASKED;
import static org.earslot.booking.BookingRefusalCode.RED_FLAG_TO_BE_SEEN;
import static org.earslot.booking.BookingRefusalCode.REFERRAL_NOT_READY;
import static org.earslot.booking.BookingRefusalCode.SLOT_TAKEN;
import static org.earslot.booking.BookingRefusalCode.TIMES_OUT_OF_ORDER;
import static org.earslot.booking.BookingRefusalCode.TIME_NOT_OF_THE_DAY;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;
import java.util.function.Function;
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
        LocalDate date = LocalDate.of(2026, 3, 3);
        LocalTime time = LocalTime.of(10, 20);
        Stream<BookingRefusal> withoutValues = Stream.of(
                        SLOT_TAKEN,
                        REFERRAL_NOT_READY,
                        RED_FLAG_TO_BE_SEEN,
                        PATIENT_DECEASED,
                        RED_FLAGS_NOT_ASKED,
                        NO_REASON,
                        TIMES_OUT_OF_ORDER,
                        IMPLAUSIBLE_SPAN,
                        TIME_NOT_OF_THE_DAY,
                        KEY_OF_ANOTHER_PRESS,
                        NOTHING_TO_RECORD,
                        PATIENT_NOT_ASKED,
                        CHANGED_MEANWHILE)
                .map(BookingRefusal::of);
        Stream<BookingRefusal> withValues = Stream.of(
                BookingRefusal.unitTaken(date, time, "Suction on wheels", time.plusHours(1)),
                BookingRefusal.unitOutOfUse(date, time, "Suction on wheels"),
                BookingRefusal.outsideSession(date, time, 30),
                BookingRefusal.methodNotHeld(Method.MICROSUCTION),
                BookingRefusal.ageNotSeen(5, 17),
                BookingRefusal.offGrid("start", "10:02", 5),
                BookingRefusal.slotLengthOutOfRange(95, 10, 90),
                BookingRefusal.beyondLateEnds(0.31, 0.2),
                BookingRefusal.shorterThanOffered(10, 15),
                BookingRefusal.inThePast(date, time),
                BookingRefusal.tooFarAhead(date, date),
                BookingRefusal.clocksChange(date),
                BookingRefusal.softenerNotOver(date),
                BookingRefusal.undoTooLate(2),
                BookingRefusal.redFlagOpen(null),
                BookingRefusal.redFlagOpen("Ombrel"),
                BookingRefusal.alreadyBooked(new UUID(0, 1)),
                BookingRefusal.methodContraindicated(Method.MICROSUCTION, date),
                BookingRefusal.unknown("start"),
                BookingRefusal.notNow("cancel", AppointmentStatus.CANCELLED),
                BookingRefusal.notBeforeStart(time),
                BookingRefusal.pressTooOld(3),
                BookingRefusal.dayNotOver(date),
                BookingRefusal.dayClosed(date),
                BookingRefusal.dayNotClosed(date));
        Stream<BookingRefusal> counted = Stream.of(0, 1, 3)
                .flatMap(count -> Stream.of(
                        BookingRefusal.visitsUnfinished(count),
                        BookingRefusal.visitsOpen(count),
                        BookingRefusal.openVisitsNotConfirmed(count)));
        return Stream.of(withoutValues, withValues, counted).flatMap(Function.identity());
    }

    @ParameterizedTest
    @MethodSource("refusals")
    void says_every_refusal(BookingRefusal refusal) {
        String said = messages.say(refusal);
        assertThat(said).endsWith(".").doesNotContain("{", "}", "booking.refusal", "null", "''");
        assertThat(messages.find(refusal.messageKey() + ".remedy")).isPresent();
        Refused refused = Refused.of(List.of(refusal));
        assertThat(refused.detail(messages)).isEqualTo(said);
        assertThat(refused.status()).isBetween(400, 499);
    }

    /** These are part of the interface for programs: one that is missing or changed here breaks theirs. */
    @Test
    void the_codes_and_status_are_those_that_programs_know() {
        Stream<BookingRefusal> gone = Stream.of(BookingRefusal.unknown("appointment"));
        assertThat(Stream.concat(refusals(), gone)
                        .map(refusal -> refusal.code() + " " + Reason.status(List.of(refusal)))
                        .distinct())
                .containsExactlyInAnyOrder(
                        "age-not-seen 422",
                        "already-booked 409",
                        "beyond-late-ends 422",
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
                        "shorter-than-offered 422",
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
        assertThat(messages.say(BookingRefusal.visitsUnfinished(1))).startsWith("One visit has");
        assertThat(messages.say(BookingRefusal.visitsUnfinished(3))).startsWith("3 visits have");
    }

    @Test
    void covers_every_code() {
        assertThat(refusals().map(BookingRefusal::why)).containsOnly(BookingRefusalCode.values());
    }

    private static ResourceBundleMessageSource texts() {
        ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
        messages.setBasenames("messages/booking", "messages/words");
        messages.setDefaultEncoding("UTF-8");
        messages.setAlwaysUseMessageFormat(true);
        return messages;
    }
}
