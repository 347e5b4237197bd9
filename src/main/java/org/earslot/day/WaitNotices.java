package org.earslot.day;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryChange;
import org.earslot.booking.PlaceRules;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Progress;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Whom reception has to reach: those who are overdue, and those who will wait longer than the clinic's limit. */
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
     * One patient to reach.
     *
     * @param route how the patient wants to be told
     * @param contact number or address, as the record has it
     * @param contactPerson who may be told in their place
     */
    public record ToReach(
            Line line,
            ContactRoute route,
            @Nullable String contact,
            @Nullable String contactPerson) {

        /** Projected start. */
        public @Nullable LocalTime starts() {
            return line.expected() == null ? null : line.expected().starts();
        }

        /** Expected wait. */
        public long waitMinutes() {
            return Math.round(line.waitMinutes());
        }

        /** Whether the patient is in the waiting room, so that a word there will do. */
        public boolean here() {
            return line.progress() == Progress.PRESENT;
        }
    }

    /**
     * The limit, and whom to reach; on another day than today nobody.
     *
     * @param overdue those who should be here, the longest missed first
     * @param toTell those who will wait longer than the limit
     */
    public record Notices(int limitMinutes, List<ToReach> overdue, List<ToReach> toTell) {

        public Notices {
            overdue = List.copyOf(overdue);
            toTell = List.copyOf(toTell);
        }

        /** How many of that practitioner's patients are overdue. */
        public long overdueOf(UUID practitionerId) {
            return of(overdue, practitionerId);
        }

        /** How many of that practitioner's patients are to be told. */
        public long toTellOf(UUID practitionerId) {
            return of(toTell, practitionerId);
        }

        private static long of(List<ToReach> all, UUID practitionerId) {
            return all.stream()
                    .filter(one -> one.line().practitionerId().equals(practitionerId))
                    .count();
        }
    }

    /** Of those still to be called in on that day. */
    @Transactional(readOnly = true)
    public Notices of(DaySchedule day) {
        int limit = rules.policy(day.clinicId()).waitLimitMinutes();
        LocalDateTime now = clock.local(day.clinicId(), clock.now());
        if (!day.date().equals(now.toLocalDate()) || day.closed()) {
            return new Notices(limit, List.of(), List.of());
        }
        LocalTime time = now.toLocalTime();
        List<Line> overdue = day.lines()
                .filter(line -> line.overdueMinutes(time) > 0)
                .sorted(Comparator.comparing(Line::due))
                .toList();
        List<Line> late = day.lines()
                .filter(line -> line.overdueMinutes(time) == 0 && isToTell(line, limit))
                .toList();
        Map<UUID, Patient> known = patients
                .findByClinicIdAndIdIn(
                        day.clinicId(),
                        Stream.concat(overdue.stream(), late.stream())
                                .map(line -> line.who().patientId())
                                .filter(Objects::nonNull)
                                .toList())
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
        return new Notices(limit, toReach(overdue, known), toReach(late, known));
    }

    /** Records that the patient was told of the wait that is expected now. */
    public BookingResult told(ClinicId clinicId, UUID appointmentId) {
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

    private static List<ToReach> toReach(List<Line> lines, Map<UUID, Patient> known) {
        return lines.stream()
                .map(line -> toReach(line, known.get(line.who().patientId())))
                .toList();
    }

    private static ToReach toReach(Line line, @Nullable Patient patient) {
        return patient == null
                ? new ToReach(line, ContactRoute.NOT_KNOWN, null, null)
                : new ToReach(
                        line,
                        patient.details().preferredRoute(),
                        patient.details().contact(),
                        patient.details().contactPerson());
    }
}
