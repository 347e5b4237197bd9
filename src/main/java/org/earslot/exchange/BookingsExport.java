package org.earslot.exchange;

import java.io.IOException;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.PlannedVisit;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Rooms;
import org.earslot.page.CsvWriter;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;

/**
 * Writes the diary as {@code bookings.csv}, to be taken in elsewhere or again. Left out is what the format cannot say: other
 * kinds of visit and fit-ins, which have no slot, and what was entered in error.
 */
@Service
public class BookingsExport {

    private static final int DAYS_AT_ONCE = 31;

    private final Appointments appointments;
    private final Patients patients;
    private final Referrals referrals;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    BookingsExport(
            Appointments appointments,
            Patients patients,
            Referrals referrals,
            Practitioners practitioners,
            Rooms rooms,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.appointments = appointments;
        this.patients = patients;
        this.referrals = referrals;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.clock = clock;
        this.events = events;
    }

    /** Writes the bookings from {@code first} (today, where empty) as far ahead as the diary is open. */
    public void write(ClinicId clinicId, Optional<LocalDate> first, Appendable out) throws IOException {
        LocalDate today = clock.today(clinicId);
        LocalDate last = today.plus(PlaceRules.OPEN_AHEAD);
        events.publishEvent(new Audited.Entry(
                clinicId, "bookings-exported", "diary", null, "from " + first.orElse(today) + " to " + last));
        Map<UUID, String> names = new HashMap<>();
        practitioners.findByClinicIdOrderByName(clinicId).forEach(p -> names.put(p.id(), p.name()));
        rooms.findByClinicIdOrderByName(clinicId).forEach(room -> names.put(room.id(), room.name()));
        CsvWriter writer = new CsvWriter(out);
        writer.write(BookingColumn.headings());
        for (LocalDate from = first.orElse(today); !from.isAfter(last); from = from.plusDays(DAYS_AT_ONCE)) {
            LocalDate to = from.plusDays(DAYS_AT_ONCE - 1L);
            for (BookingLine line : lines(clinicId, from, to.isAfter(last) ? last : to, names)) {
                writer.write(BookingColumn.cells(line));
            }
        }
    }

    private List<BookingLine> lines(ClinicId clinicId, LocalDate from, LocalDate to, Map<UUID, String> names) {
        List<Appointment> booked =
                appointments.findByClinicIdAndClinicDateBetweenOrderByStartsAt(clinicId, from, to).stream()
                        .filter(appointment -> !appointment.fitIn()
                                && appointment.planned().method() != null
                                && appointment.status() != AppointmentStatus.ENTERED_IN_ERROR)
                        .toList();
        Map<UUID, Patient> people = new HashMap<>();
        patients.findAllById(
                        booked.stream().flatMap(a -> a.patientId().stream()).toList())
                .forEach(patient -> people.put(patient.id(), patient));
        if (!people.isEmpty()) {
            events.publishEvent(Audited.viewed(clinicId, "bookings export", people.keySet()));
        }
        Map<UUID, Referral> asked = new HashMap<>();
        referrals
                .findAllById(
                        booked.stream().flatMap(a -> a.referralId().stream()).toList())
                .forEach(referral -> asked.put(referral.id(), referral));
        return booked.stream()
                .map(appointment -> line(
                        appointment,
                        appointment.patientId().map(people::get).orElseThrow(),
                        appointment
                                .referralId()
                                .map(asked::get)
                                .map(Referral::details)
                                .orElse(null),
                        names))
                .toList();
    }

    private BookingLine line(
            Appointment appointment, Patient patient, @Nullable ReferralDetails said, Map<UUID, String> names) {
        BookedPlace place = appointment.place();
        PlannedVisit planned = appointment.planned();
        return new BookingLine(
                appointment.bookingRef().orElseGet(() -> BookingLine.ownRef(appointment.id())),
                patient.localNumber(),
                patient.details(),
                clock.local(appointment.clinicId(), place.start()),
                place.slotMinutes(),
                names.get(place.practitionerId()),
                names.get(place.roomId()),
                planned.method(),
                planned.ears(),
                said == null ? Map.of() : said.reported().byEar(),
                said == null
                        ? new LinkedHashSet<>()
                        : said.cautions().confirmed().stream()
                                .sorted()
                                .collect(Collectors.toCollection(LinkedHashSet::new)),
                appointment.status(),
                appointment.note().orElse(null),
                said == null ? List.of() : said.cautions().unknown());
    }
}
