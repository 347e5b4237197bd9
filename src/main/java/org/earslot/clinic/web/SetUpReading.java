package org.earslot.clinic.web;

import java.time.DateTimeException;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.SetUpRefusal;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.setup.PolicySetUp;
import org.earslot.clinic.setup.SessionSetUp;
import org.earslot.clinic.setup.SetUp;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.Word;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;

/** Reads one form of the set-up page and, if all of it holds, has it carried out. */
final class SetUpReading {

    private final SubmittedForm submittedForm;
    private final ClinicId clinicId;
    private final LocalDate today;
    private final Reading reading = new Reading();

    SetUpReading(SubmittedForm submittedForm, ClinicId clinicId, LocalDate today) {
        this.submittedForm = submittedForm;
        this.clinicId = clinicId;
        this.today = today;
    }

    /** What is wrong; empty if it was carried out. */
    List<Problem> carryOut(SetUp setUp, SessionSetUp sessions, PolicySetUp policies, Optional<UUID> id) {
        Optional<SetUpRefusal> refusal = switch (submittedForm.section()) {
            case "clinic" -> clinic(setUp);
            case "contact" -> contact(setUp);
            case "practitioners" -> practitioner(setUp, id);
            case "rooms" -> room(setUp, id);
            case "other-visits" -> otherVisit(setUp, id);
            case "sessions" -> id.isPresent() ? endSession(sessions, id.get()) : addSession(sessions);
            case "exceptions" -> id.isPresent() ? sessions.dropException(clinicId, id.get()) : exception(sessions);
            case "policy" -> policy(policies);
            default -> throw Refused.notFound("set-up-part");
        };
        refusal.ifPresent(reason -> reading.add(Problem.of(reason)));
        return reading.problems();
    }

    private Optional<SetUpRefusal> clinic(SetUp setUp) {
        Optional<String> name = name();
        Optional<ZoneId> zone = reading.required(
                "timeZone",
                reading.word(
                        "timeZone",
                        submittedForm.get("timeZone"),
                        SetUpReading::zone,
                        List.of("Europe/London", "UTC", "…")),
                "clinic.allowed.timeZone");
        return reading.clean() ? setUp.rename(clinicId, name.orElseThrow(), zone.orElseThrow()) : Optional.empty();
    }

    private Optional<SetUpRefusal> contact(SetUp setUp) {
        ClinicContact contact = ClinicContact.read(
                reading, submittedForm.get("phone"), submittedForm.get("address"), submittedForm.get("openingHours"));
        return reading.clean() ? setUp.reachAt(clinicId, contact) : Optional.empty();
    }

    private static Optional<ZoneId> zone(String given) {
        try {
            return Optional.of(ZoneId.of(given));
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    private Optional<SetUpRefusal> practitioner(SetUp setUp, Optional<UUID> id) {
        Optional<String> name = name();
        Optional<Ear> hand = reading.word("hand", submittedForm.get("hand"), Ear::of, Word.codes(Ear.values()));
        Set<Method> methods = EnumSet.noneOf(Method.class);
        submittedForm
                .all("methods")
                .forEach(code -> reading.word("methods", code, Method::of, Word.codes(Method.values()))
                        .ifPresent(methods::add));
        if (methods.isEmpty() && reading.clean()) {
            problem("methods", "", "clinic.allowed.methods");
        }
        Optional<Integer> least = reading.whole("leastAge", submittedForm.get("leastAge"), 0, AgeRange.OLDEST);
        Optional<Integer> most = reading.whole("mostAge", submittedForm.get("mostAge"), 0, AgeRange.OLDEST);
        if (least.isPresent() && most.isPresent() && most.get() < least.get()) {
            problem("mostAge", most.get().toString(), "clinic.allowed.mostAge", least.get());
        }
        return reading.clean()
                ? setUp.practitioner(
                        clinicId,
                        id,
                        name.orElseThrow(),
                        hand.orElse(null),
                        methods,
                        new AgeRange(least.orElse(null), most.orElse(null)),
                        submittedForm.ticked("active"))
                : Optional.empty();
    }

    private Optional<SetUpRefusal> room(SetUp setUp, Optional<UUID> id) {
        Optional<String> name = name();
        return reading.clean()
                ? setUp.room(clinicId, id, name.orElseThrow(), submittedForm.ticked("active"))
                : Optional.empty();
    }

    private Optional<SetUpRefusal> otherVisit(SetUp setUp, Optional<UUID> id) {
        Optional<String> name = name();
        int minutes = whole("minutes", 1, 180);
        return reading.clean()
                ? setUp.otherVisit(clinicId, id, name.orElseThrow(), minutes, submittedForm.ticked("active"))
                : Optional.empty();
    }

    private Optional<SetUpRefusal> addSession(SessionSetUp sessions) {
        Optional<UUID> practitioner = choice("practitioner");
        Optional<UUID> room = choice("room");
        Optional<DayOfWeek> day = reading.required(
                "day",
                reading.word("day", submittedForm.get("day"), SetUpReading::weekday, names(DayOfWeek.values())),
                "clinic.allowed.weekday");
        Optional<TimeSpan> span = span("from", "to");
        Optional<TimeSpan> pause = submittedForm.get("breakFrom").isBlank()
                        && submittedForm.get("breakTo").isBlank()
                ? Optional.empty()
                : span("breakFrom", "breakTo");
        LocalDate validFrom = reading.date(
                        "validFrom", submittedForm.get("validFrom"), today.minusYears(5), today.plusYears(2))
                .orElse(today);
        return reading.clean()
                ? sessions.addSession(
                        clinicId,
                        practitioner.orElseThrow(),
                        room.orElseThrow(),
                        day.orElseThrow(),
                        span.orElseThrow(),
                        pause.orElse(null),
                        validFrom)
                : Optional.empty();
    }

    private Optional<SetUpRefusal> endSession(SessionSetUp sessions, UUID id) {
        Optional<LocalDate> lastDay = reading.required(
                "lastDay",
                reading.date("lastDay", submittedForm.get("lastDay"), today.minusYears(5), today.plusYears(2)),
                "clinic.allowed.lastDay");
        return reading.clean() ? sessions.endSession(clinicId, id, lastDay.orElseThrow()) : Optional.empty();
    }

    private Optional<SetUpRefusal> exception(SessionSetUp sessions) {
        Optional<LocalDate> date = reading.required(
                "date",
                reading.date("date", submittedForm.get("date"), today.minusYears(1), today.plusYears(2)),
                "clinic.allowed.date");
        Optional<String> reason = reading.required(
                "reason", reading.text("reason", submittedForm.get("reason"), 200), "clinic.allowed.reason");
        Optional<UUID> practitioner = reading.id("practitioner", submittedForm.get("practitioner"));
        if (!submittedForm.get("kind").equals("extra")) {
            return reading.clean()
                    ? sessions.close(clinicId, date.orElseThrow(), practitioner.orElse(null), reason.orElseThrow())
                    : Optional.empty();
        }
        reading.required("practitioner", practitioner, "clinic.allowed.practitioner");
        Optional<UUID> room = choice("room");
        Optional<TimeSpan> span = span("from", "to");
        return reading.clean()
                ? sessions.addExtra(
                        clinicId,
                        date.orElseThrow(),
                        practitioner.orElseThrow(),
                        room.orElseThrow(),
                        span.orElseThrow(),
                        reason.orElseThrow())
                : Optional.empty();
    }

    private Optional<SetUpRefusal> policy(PolicySetUp policies) {
        int grid = reading.word(
                        "gridMinutes",
                        submittedForm.get("gridMinutes"),
                        SetUpReading::grid,
                        List.of("1", "5", "10", "15"))
                .orElse(0);
        if (grid == 0) {
            reading.required("gridMinutes", Optional.empty(), "clinic.allowed.grid");
        }
        PolicyTerms terms = new PolicyTerms(
                grid,
                whole("acceptedOverrunPercent", 1, 99) / 100.0,
                whole("acceptedOvertimePercent", 1, 99) / 100.0,
                whole("leastSlotMinutes", 5, 180),
                whole("mostSlotMinutes", 5, 180),
                whole("waitLimitMinutes", 0, 180),
                whole("earlyAllowanceMinutes", 0, 60),
                whole("irrigationTurnaroundMinutes", 0, 60),
                whole("microsuctionTurnaroundMinutes", 0, 60),
                whole("manualRemovalTurnaroundMinutes", 0, 60));
        // A form that says nothing of early dates, or of the offers, leaves them as they are.
        int sooner = submittedForm.get("tenDaysSoonerMinutes").isEmpty()
                ? policies.of(clinicId).tenDaysSoonerMinutes()
                : whole("tenDaysSoonerMinutes", 0, 180);
        Optional<Boolean> whole =
                reading.word("offers", submittedForm.get("offers"), SetUpReading::wholeList, List.of("list", "end"));
        if (!reading.clean()) {
            return Optional.empty();
        }
        Optional<SetUpRefusal> refusal = policies.settle(clinicId, terms.withTenDaysSoonerMinutes(sooner));
        if (refusal.isEmpty()) {
            whole.ifPresent(by -> policies.offerByWholeList(clinicId, by));
        }
        return refusal;
    }

    private void problem(String field, String given, String key, Object... arguments) {
        reading.refuse(field, given, key, arguments);
    }

    private static Optional<Boolean> wholeList(String given) {
        return switch (given) {
            case "list" -> Optional.of(true);
            case "end" -> Optional.of(false);
            default -> Optional.empty();
        };
    }

    private static Optional<Integer> grid(String given) {
        return Optional.of(given).filter(Set.of("1", "5", "10", "15")::contains).map(Integer::valueOf);
    }

    private Optional<String> name() {
        return reading.required("name", reading.text("name", submittedForm.get("name"), 80), "clinic.allowed.name");
    }

    private int whole(String field, int least, int most) {
        return reading.requiredWhole(field, submittedForm.get(field), least, most)
                .orElse(0);
    }

    private Optional<UUID> choice(String field) {
        return reading.required(field, reading.id(field, submittedForm.get(field)), "clinic.allowed." + field);
    }

    private Optional<TimeSpan> span(String fromField, String toField) {
        @Nullable LocalTime from = time(fromField);
        @Nullable LocalTime to = time(toField);
        if (from == null || to == null) {
            return Optional.empty();
        }
        if (!from.isBefore(to)) {
            problem(toField, to.toString(), "clinic.allowed.later", from.toString());
            return Optional.empty();
        }
        return Optional.of(new TimeSpan(from, to));
    }

    private @Nullable LocalTime time(String field) {
        return reading.required(field, reading.time(field, submittedForm.get(field)), "clinic.allowed.time")
                .orElse(null);
    }

    private static Optional<DayOfWeek> weekday(String given) {
        return Arrays.stream(DayOfWeek.values())
                .filter(day -> day.name().equals(given))
                .findFirst();
    }

    private static List<String> names(Enum<?>[] values) {
        return Arrays.stream(values).map(Enum::name).toList();
    }
}
