package org.earslot.day;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.PlaceRules;
import org.earslot.clinic.ClinicClock;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Progress;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Whom reception has to tell of a wait that is longer than the clinic's limit, and that they were told. */
@Service
public class WaitNotices {

    private final DaySchedules diaries;
    private final DiaryChange change;
    private final Patients patients;
    private final PlaceRules rules;
    private final ClinicClock clock;

    WaitNotices(DaySchedules diaries, DiaryChange change, Patients patients, PlaceRules rules, ClinicClock clock) {
        this.diaries = diaries;
        this.change = change;
        this.patients = patients;
        this.rules = rules;
        this.clock = clock;
    }

    /**
     * One patient to tell.
     *
     * @param starts projected start
     * @param waitMinutes expected wait
     * @param here whether the patient is in the waiting room, so that a word there will do
     * @param route how the patient wants to be told
     * @param contact number or address, as the record has it
     * @param contactPerson who may be told in their place
     */
    public record ToTell(
            Line line,
            @Nullable LocalTime starts,
            long waitMinutes,
            boolean here,
            ContactRoute route,
            @Nullable String contact,
            @Nullable String contactPerson) {}

    /** The limit, and whom to tell; on another day than today nobody. */
    public record Notices(int limitMinutes, List<ToTell> toTell) {

        public Notices {
            toTell = List.copyOf(toTell);
        }
    }

    /** Of those still to be called in on that day. */
    @Transactional(readOnly = true)
    public Notices of(DaySchedule day) {
        int limit = rules.policy(day.clinicId()).waitLimitMinutes();
        if (!day.date().equals(clock.today(day.clinicId()))) {
            return new Notices(limit, List.of());
        }
        List<Line> late = day.lines().filter(line -> isToTell(line, limit)).toList();
        Map<UUID, Patient> known = patients
                .findByClinicIdAndIdIn(
                        day.clinicId(),
                        late.stream()
                                .map(line -> line.who().patientId())
                                .filter(Objects::nonNull)
                                .toList())
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
        return new Notices(
                limit,
                late.stream()
                        .map(line -> toTell(line, known.get(line.who().patientId())))
                        .toList());
    }

    /** Records that the patient was told of the wait that is expected now. */
    public BookingResult told(UUID clinicId, UUID appointmentId) {
        return change.ofAppointment(clinicId, appointmentId, null, Set.of(), (appointment, closed) -> {
            LocalDate date = appointment.place().date();
            Optional<Line> line = diaries.of(clinicId, date)
                    .lines()
                    .filter(each -> each.id().equals(appointmentId))
                    .findFirst();
            if (!date.equals(clock.today(clinicId)) || line.isEmpty()) {
                return BookingResult.refused(BookingRefusal.notNow("tell", appointment.status()));
            }
            int wait = (int) Math.round(line.get().waitMinutes());
            return change.stored(
                    appointment, appointment.tell(clock.now(), wait), "patient-told", "of a wait of " + wait + " min");
        });
    }

    private static boolean isToTell(Line line, int limit) {
        boolean waiting = line.progress() == Progress.TO_COME || line.progress() == Progress.PRESENT;
        int said = line.told() == null ? 0 : line.told().minutes() + WaitNotice.MORE_MINUTES;
        return waiting && line.waitMinutes() > Math.max(limit, said);
    }

    private static ToTell toTell(Line line, @Nullable Patient patient) {
        boolean here = line.progress() == Progress.PRESENT;
        LocalTime starts = line.expected() == null ? null : line.expected().starts();
        long wait = Math.round(line.waitMinutes());
        return patient == null
                ? new ToTell(line, starts, wait, here, ContactRoute.NOT_KNOWN, null, null)
                : new ToTell(
                        line,
                        starts,
                        wait,
                        here,
                        patient.details().preferredRoute(),
                        patient.details().contact(),
                        patient.details().contactPerson());
    }
}
