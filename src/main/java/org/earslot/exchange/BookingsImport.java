package org.earslot.exchange;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.DiaryChanged;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicId;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.imports.CsvImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportResult;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.exchange.imports.SetUpImport;
import org.earslot.exchange.imports.SetUpNames;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/**
 * Takes in a diary that was kept elsewhere. Places stand where that diary says, also outside sessions; only what would
 * book a practitioner or a room twice stays out. Patients already known keep what is known of them. No line says that red
 * flags were asked: what is booked stays booked and is asked at check-in, what waits is asked before it is booked.
 */
@Component
class BookingsImport implements CsvImport {

    private final SetUpImport setUpImport;
    private final PlaceRules rules;
    private final RowLocks locks;
    private final ApplicationEventPublisher events;
    private final ImportedPatients people;
    private final ImportedReferrals referrals;
    private final ImportedAppointments booked;

    BookingsImport(
            SetUpImport setUpImport,
            PlaceRules rules,
            RowLocks locks,
            ApplicationEventPublisher events,
            ImportedPatients people,
            ImportedReferrals referrals,
            ImportedAppointments booked) {
        this.setUpImport = setUpImport;
        this.rules = rules;
        this.locks = locks;
        this.events = events;
        this.people = people;
        this.referrals = referrals;
        this.booked = booked;
    }

    @Override
    public ImportKind kind() {
        return ImportKind.BOOKINGS;
    }

    @Override
    public List<String> columns() {
        return BookingColumn.headings();
    }

    @Override
    public List<String> required() {
        return BookingColumn.requiredHeadings();
    }

    @Override
    public String idColumn() {
        return BookingColumn.BOOKING_ID.heading();
    }

    @Override
    public Taking begin(ImportTerms terms, ImportResult importResult) {
        return new Run(terms, importResult, setUpImport.names(terms, importResult));
    }

    private final class Run implements Taking {

        private final ImportTerms terms;
        private final ClinicId clinicId;
        private final ImportResult importResult;
        private final SetUpNames names;

        Run(ImportTerms terms, ImportResult importResult, SetUpNames names) {
            this.terms = terms;
            this.clinicId = terms.clinicId();
            this.importResult = importResult;
            this.names = names;
        }

        @Override
        public void take(List<Cells> lines) {
            for (Cells cells : lines) {
                Optional<BookingLine> line = BookingLine.read(cells);
                if (line.isEmpty() || !goesIn(cells, line.get())) {
                    importResult.reject(cells);
                }
            }
            events.publishEvent(new DiaryChanged(clinicId));
        }

        /** Whether the line went in or was there already; else what is wrong is noted at the cells. */
        private boolean goesIn(Cells cells, BookingLine line) {
            Optional<UUID> practitioner = names.practitioner(cells, line.practitioner());
            Optional<UUID> room = names.room(cells, line.room());
            if (practitioner.isEmpty() || room.isEmpty()) {
                return false;
            }
            BookedPlace place = rules.onTheClock(
                    clinicId, new AskedPlace(practitioner.get(), room.get(), line.start(), line.slotMinutes()));
            Optional<Appointment> known = booked.known(clinicId, line.bookingRef());
            if (known.isPresent()) {
                return wasThere(cells, line, place, known.get());
            }
            if (holds(line.status()) && !free(cells, place, null)) {
                return false;
            }
            if (people.isSomebodyElse(clinicId, line)) {
                cells.fault(
                        BookingColumn.PATIENT_REF.heading(),
                        "the patient known by this number has another name or date of birth",
                        "correct the number, or the patient's details here, and send the line again");
                return false;
            }
            names.planned(practitioner.get(), line.method());
            book(line, place);
            importResult.accept(line.patientRef());
            return true;
        }

        private boolean wasThere(Cells cells, BookingLine line, BookedPlace place, Appointment known) {
            if (same(line, place, known)) {
                importResult.repeat(cells);
                return true;
            }
            if (!terms.update()) {
                cells.fault(
                        BookingColumn.BOOKING_ID.heading(),
                        "this booking is in the diary with other content",
                        "change it in the diary, give the line an id of its own, or send the file again with \"update\"");
                return false;
            }
            return replaced(cells, line, place, known);
        }

        /**
         * Whether the line says what the diary says. How far the visit has come is the diary's own; a person's details
         * count only where the line is to replace them.
         */
        private boolean same(BookingLine line, BookedPlace place, Appointment known) {
            boolean samePerson = people.of(known)
                    .filter(person -> ImportedPatients.isSame(person, line, terms.update()))
                    .isPresent();
            boolean sameReport = referrals
                    .of(known)
                    .filter(referral -> ImportedReferrals.isSame(referral, line))
                    .isPresent();
            return samePerson
                    && sameReport
                    && known.place().equals(place)
                    && known.planned().method() == line.method()
                    && known.planned().ears() == line.ears()
                    && Objects.equals(known.note().orElse(null), line.note());
        }

        private boolean replaced(Cells cells, BookingLine line, BookedPlace place, Appointment known) {
            Optional<Referral> referral = referrals.of(known);
            Optional<Patient> patient = people.of(known);
            boolean samePatient = patient.map(person -> person.localNumber().equals(line.patientRef()))
                    .orElse(false);
            if (!known.status().toCome() || referral.isEmpty() || !samePatient) {
                cells.fault(
                        BookingColumn.BOOKING_ID.heading(),
                        "this booking is another patient's, or no longer to come, and is not replaced",
                        "change it in the diary, or give the line an id of its own");
                return false;
            }
            if (holds(line.status()) && !free(cells, place, known.id())) {
                return false;
            }
            people.replace(patient.get(), line, terms.who());
            booked.replace(known, referrals.replace(referral.get(), line, terms.who()), patient.get(), place, line);
            importResult.accept(line.patientRef());
            return true;
        }

        private boolean free(Cells cells, BookedPlace place, @Nullable UUID except) {
            locks.holdDays(clinicId, new TreeSet<>(List.of(place.date())));
            boolean taken = rules.taken(clinicId, place, except).isPresent();
            if (taken) {
                cells.fault(
                        "start",
                        "the practitioner or the room is booked then",
                        "move one of the two bookings, then send the line again");
            }
            return !taken;
        }

        private void book(BookingLine line, BookedPlace place) {
            Patient patient = people.completed(clinicId, line, terms.who());
            booked.book(referrals.add(patient, line, terms.who()), patient, place, line, terms.who());
        }

        @Override
        public void finish() {
            names.finish();
        }

        @Override
        public void committed(long accepted) {
            // Nobody waits for bookings to come in: every page reads the diary as it stands.
        }
    }

    private static boolean holds(AppointmentStatus status) {
        return status.toCome() || status.present() || status == AppointmentStatus.FULFILLED;
    }
}
