package org.earslot.exchange;

import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.DiaryChanged;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.PlannedVisit;
import org.earslot.booking.RowLocks;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.booking.VisitPlans;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.PatientCaution.Basis;
import org.earslot.caution.PatientCautions;
import org.earslot.clinic.ClinicClock;
import org.earslot.ear.Ear;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.imports.CsvImport;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportResult;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.exchange.imports.SetUpImport;
import org.earslot.exchange.imports.SetUpNames;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientAmendments;
import org.earslot.patient.Patients;
import org.earslot.referral.Origin;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
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
    private final Patients patients;
    private final PatientAmendments amendments;
    private final Referrals referrals;
    private final Appointments appointments;
    private final PlaceRules rules;
    private final RowLocks locks;
    private final Estimates estimates;
    private final SuitabilityCheck suitabilityCheck;
    private final PatientCautions patientCautions;
    private final RedFlagTriage triage;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    BookingsImport(
            SetUpImport setUpImport,
            Patients patients,
            PatientAmendments amendments,
            Referrals referrals,
            Appointments appointments,
            PlaceRules rules,
            RowLocks locks,
            Estimates estimates,
            SuitabilityCheck suitabilityCheck,
            PatientCautions patientCautions,
            RedFlagTriage triage,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.setUpImport = setUpImport;
        this.patients = patients;
        this.amendments = amendments;
        this.referrals = referrals;
        this.appointments = appointments;
        this.rules = rules;
        this.locks = locks;
        this.estimates = estimates;
        this.suitabilityCheck = suitabilityCheck;
        this.patientCautions = patientCautions;
        this.triage = triage;
        this.clock = clock;
        this.events = events;
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
        private final UUID clinicId;
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
            Optional<Appointment> known = known(line.bookingRef());
            if (known.isPresent()) {
                return wasThere(cells, line, place, known.get());
            }
            if (holds(line.status()) && !free(cells, place, null)) {
                return false;
            }
            if (isSomebodyElse(line)) {
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

        /** A booking made here has no reference of its own and goes out under its id. */
        private Optional<Appointment> known(String bookingRef) {
            return appointments
                    .findByClinicIdAndBookingRef(clinicId, bookingRef)
                    .or(() -> BookingLine.ownId(bookingRef)
                            .flatMap(id -> appointments.findByClinicIdAndId(clinicId, id))
                            .filter(own -> own.bookingRef().isEmpty()));
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
            Optional<Patient> patient = known.patientId().flatMap(id -> patients.findByClinicIdAndId(clinicId, id));
            Optional<ReferralDetails> said = known.referralId()
                    .flatMap(id -> referrals.findByClinicIdAndId(clinicId, id))
                    .map(Referral::details);
            boolean samePerson = patient.map(person -> person.localNumber().equals(line.patientRef())
                            && (!terms.update()
                                    || person.details()
                                            .completedBy(line.person())
                                            .equals(person.details())))
                    .orElse(false);
            boolean sameReport = said.map(details -> reportOf(details)
                            .equals(reportOf(said(line, details.source().receivedOn()))))
                    .orElse(false);
            return samePerson
                    && sameReport
                    && known.place().equals(place)
                    && known.planned().method() == line.method()
                    && known.planned().ears() == line.ears()
                    && Objects.equals(known.note().orElse(null), line.note());
        }

        private boolean replaced(Cells cells, BookingLine line, BookedPlace place, Appointment known) {
            Optional<Referral> referral = known.referralId().flatMap(id -> referrals.findByClinicIdAndId(clinicId, id));
            Optional<Patient> patient = known.patientId().flatMap(id -> patients.findByClinicIdAndId(clinicId, id));
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
            amendments.amend(patient.get(), patient.get().details().completedBy(line.person()), terms.who());
            ReferralDetails before = referral.get().details();
            referral.get().amend(replacing(before, said(line, before.source().receivedOn())));
            referral.get().setStatus(standing(line.status()));
            triage.holdOrLetGo(referral.get());
            Estimate estimate =
                    estimates.estimate(clinicId, VisitPlans.of(referral.get(), patient.get(), place.practitionerId()));
            known.replace(line.method(), line.ears());
            known.moveTo(place, estimate.promised(), estimate.version());
            known.takeOver(line.bookingRef(), line.status(), line.note());
            referrals.saveAndFlush(referral.get());
            recordCautions(referral.get());
            suitabilityCheck.recordOn(known);
            appointments.saveAndFlush(known);
            importResult.accept(line.patientRef());
            return true;
        }

        private boolean free(Cells cells, BookedPlace place, @Nullable UUID except) {
            locks.holdDays(clinicId, new TreeSet<>(List.of(place.date())));
            boolean importResult = rules.taken(clinicId, place, except).isPresent();
            if (importResult) {
                cells.fault(
                        "start",
                        "the practitioner or the room is booked then",
                        "move one of the two bookings, then send the line again");
            }
            return !importResult;
        }

        private boolean isSomebodyElse(BookingLine line) {
            return patients.known(clinicId, line.patientRef())
                    .map(known -> !known.details().contradictedBy(line.person()).isEmpty())
                    .orElse(false);
        }

        private void book(BookingLine line, BookedPlace place) {
            Patient patient = patients.known(clinicId, line.patientRef())
                    .map(found -> completed(found, line))
                    .orElseGet(() -> patients.save(
                            new Patient(UUID.randomUUID(), clinicId, line.patientRef(), line.person(), clock.now())));
            Referral referral = new Referral(
                    UUID.randomUUID(), clinicId, patient.id(), said(line, clock.today(clinicId)), clock.now());
            referral.setStatus(standing(line.status()));
            triage.holdOrLetGo(referral);
            referrals.save(referral);
            recordCautions(referral);
            Estimate estimate = estimates.estimate(clinicId, VisitPlans.of(referral, patient, place.practitionerId()));
            PlannedVisit planned = new PlannedVisit(
                    referral.id(),
                    patient.id(),
                    null,
                    line.method(),
                    line.ears(),
                    estimate.promised(),
                    estimate.version());
            Appointment appointment =
                    Appointment.booked(UUID.randomUUID(), clinicId, planned, place, terms.who(), clock.now());
            appointment.takeOver(line.bookingRef(), line.status(), line.note());
            suitabilityCheck.recordOn(appointment);
            appointments.saveAndFlush(appointment);
        }

        private void recordCautions(Referral referral) {
            LocalDate today = clock.today(clinicId);
            referral.details()
                    .cautions()
                    .yes()
                    .forEach(named -> patientCautions.record(
                            clinicId, referral.patientId(), named, Basis.IMPORTED, today, terms.who()));
        }

        private Patient completed(Patient known, BookingLine line) {
            amendments.amend(known, line.person().completedBy(known.details()), terms.who());
            return known;
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

    private static ReferralStatus standing(AppointmentStatus status) {
        if (status == AppointmentStatus.WAITLIST) {
            return ReferralStatus.WAITING;
        }
        return status.toCome() || status.present() ? ReferralStatus.BOOKED : ReferralStatus.CLOSED;
    }

    /** What a line can say of a referral. */
    private static List<Object> reportOf(ReferralDetails details) {
        return List.of(
                details.request().methodPlanned(),
                details.request().ears(),
                details.reported(),
                details.cautions().confirmed());
    }

    /** The referral with what a line can say replaced, and all else as it was. */
    private static ReferralDetails replacing(ReferralDetails before, ReferralDetails said) {
        CautionAnswers cautions = before.cautions();
        List<AskedCaution> yes = said.cautions().yes().stream()
                .flatMap(named -> knownOr(before, named))
                .toList();
        return new ReferralDetails(
                before.source(),
                before.request().of(said.request().ears(), said.request().methodPlanned()),
                said.reported(),
                new CautionAnswers(cautions.asked(), yes, cautions.notKnown(), cautions.unknown()),
                before.redFlags());
    }

    /** A file knows no ear and no date: what is known of the same caution stays. */
    private static Stream<AskedCaution> knownOr(ReferralDetails before, AskedCaution named) {
        List<AskedCaution> known = before.cautions().yes().stream()
                .filter(asked -> asked.caution() == named.caution())
                .toList();
        return known.isEmpty() ? Stream.of(named) : known.stream();
    }

    /** A file may name cautions, but nobody has read the list out: they do not count as asked. */
    private static ReferralDetails said(BookingLine line, LocalDate today) {
        List<AskedCaution> named = line.cautions().stream()
                .map(caution -> new AskedCaution(caution, null, null))
                .toList();
        return new ReferralDetails(
                new ReferralSource(null, today, Origin.REFERRAL),
                VisitRequest.routine(line.ears(), line.method()),
                new ReportedEars(line.reported(Ear.RIGHT), line.reported(Ear.LEFT)),
                new CautionAnswers(false, named),
                RedFlagAnswers.NOT_ASKED);
    }
}
