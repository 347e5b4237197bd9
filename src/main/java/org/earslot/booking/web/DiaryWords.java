package org.earslot.booking.web;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRefusal.AgeNotSeen;
import org.earslot.booking.BookingRefusal.AlreadyBooked;
import org.earslot.booking.BookingRefusal.ChangedMeanwhile;
import org.earslot.booking.BookingRefusal.DayClosed;
import org.earslot.booking.BookingRefusal.DayNotClosed;
import org.earslot.booking.BookingRefusal.DayNotOver;
import org.earslot.booking.BookingRefusal.KeyOfAnotherPress;
import org.earslot.booking.BookingRefusal.MethodContraindicated;
import org.earslot.booking.BookingRefusal.MethodNotHeld;
import org.earslot.booking.BookingRefusal.NotNow;
import org.earslot.booking.BookingRefusal.NothingToRecord;
import org.earslot.booking.BookingRefusal.OpenVisitsNotConfirmed;
import org.earslot.booking.BookingRefusal.OutsideSession;
import org.earslot.booking.BookingRefusal.PatientDeceased;
import org.earslot.booking.BookingRefusal.PatientNotAsked;
import org.earslot.booking.BookingRefusal.RedFlagOpen;
import org.earslot.booking.BookingRefusal.RedFlagToBeSeen;
import org.earslot.booking.BookingRefusal.RedFlagsNotAsked;
import org.earslot.booking.BookingRefusal.ReferralNotReady;
import org.earslot.booking.BookingRefusal.SlotTaken;
import org.earslot.booking.BookingRefusal.SoftenerNotOver;
import org.earslot.booking.BookingRefusal.UnitTaken;
import org.earslot.booking.BookingRefusal.Unknown;
import org.earslot.booking.BookingRefusal.VisitsOpen;
import org.earslot.booking.BookingRefusal.VisitsUnfinished;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.WorsenedCautions;
import org.earslot.ear.Word;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** The diary's answers in words. */
@Component
public class DiaryWords {

    private static final Set<Class<? extends BookingRefusal>> CONFLICTS = Set.of(
            SlotTaken.class,
            UnitTaken.class,
            AlreadyBooked.class,
            ReferralNotReady.class,
            RedFlagOpen.class,
            RedFlagToBeSeen.class,
            RedFlagsNotAsked.class,
            PatientDeceased.class,
            NotNow.class,
            DayClosed.class,
            DayNotOver.class,
            DayNotClosed.class,
            VisitsUnfinished.class,
            VisitsOpen.class,
            OpenVisitsNotConfirmed.class,
            KeyOfAnotherPress.class,
            NothingToRecord.class,
            PatientNotAsked.class,
            ChangedMeanwhile.class);
    private static final Set<Class<? extends BookingRefusal>> AGAINST_RULES = Set.of(
            AgeNotSeen.class,
            MethodContraindicated.class,
            MethodNotHeld.class,
            SoftenerNotOver.class,
            OutsideSession.class);

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMM yyyy", Locale.ENGLISH);

    private final MessageSource messages;

    DiaryWords(MessageSource messages) {
        this.messages = messages;
    }

    public String say(String key, Object... arguments) {
        return messages.getMessage(key, arguments, LocaleContextHolder.getLocale());
    }

    /** Why, and what to do. */
    public String say(BookingRefusal refusal) {
        return allowed(refusal) + " " + remedy(refusal);
    }

    /** What suits worse than before, and by which cautions. */
    public String say(String key, WorsenedCautions worse) {
        return say(
                key,
                say("Verdict." + worse.was().name()),
                say("Verdict." + worse.now().name()),
                worse.cautions().stream()
                        .map(caution -> say("Caution." + caution.code()))
                        .collect(Collectors.joining(", ")));
    }

    public List<String> say(NotDone result) {
        return result.refusals().stream().map(this::say).toList();
    }

    /** The status of HTTP that fits. */
    public int status(List<BookingRefusal> refusals) {
        BookingRefusal first = refusals.get(0);
        if (first instanceof Unknown unknown && unknown.what().equals("appointment")) {
            return 404;
        }
        if (CONFLICTS.contains(first.getClass())) {
            return 409;
        }
        return AGAINST_RULES.contains(first.getClass()) ? 422 : 400;
    }

    /** The refusal for the border of HTTP. */
    public Refused refused(List<BookingRefusal> refusals) {
        return refused(refusals, status(refusals));
    }

    public Refused refused(List<BookingRefusal> refusals, int status) {
        if (status == 404) {
            return Refused.notFound("appointment");
        }
        List<Problem> problems = refusals.stream()
                .filter(refusal -> !refusal.field().isEmpty())
                .map(refusal -> new Problem(
                        refusal.field(),
                        refusal.values().isEmpty()
                                ? ""
                                : refusal.values().get(0) instanceof Word word
                                        ? word.code()
                                        : String.valueOf(refusal.values().get(0)),
                        allowed(refusal),
                        remedy(refusal)))
                .toList();
        Refused refused = new Refused(status, refusals.get(0).code(), say(refusals.get(0)), problems);
        return refusals.get(0) instanceof AlreadyBooked booked
                ? refused.with("appointment", booked.appointmentId())
                : refused;
    }

    private String allowed(BookingRefusal refusal) {
        return say("booking.refusal." + refusal.wording(), arguments(refusal));
    }

    private String remedy(BookingRefusal refusal) {
        return say("booking.refusal." + refusal.wording() + ".remedy", arguments(refusal));
    }

    private Object[] arguments(BookingRefusal refusal) {
        return refusal.values().stream().map(this::plain).toArray();
    }

    /** A number stays one: a message may choose its words by it. */
    private Object plain(Object value) {
        if (value instanceof Number) {
            return value;
        }
        if (value instanceof LocalDate date) {
            return DAY.format(date);
        }
        return value instanceof Word word
                ? say(word.getClass().getSimpleName() + "." + word.code())
                : String.valueOf(value);
    }
}
