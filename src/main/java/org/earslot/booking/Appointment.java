package org.earslot.booking;

import static org.earslot.booking.BookingRefusalCode.IMPLAUSIBLE_SPAN;
import static org.earslot.booking.BookingRefusalCode.TIMES_OUT_OF_ORDER;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.caution.Verdict;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.visit.ClockRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;

/**
 * A visit that is arranged: for whom, for what, where and when, and how far it has come. Each verb changes it and returns
 * empty, or changes nothing and returns why not.
 */
@Entity
public class Appointment {

    /** So long after it was made a press can be undone as if it had never been. */
    public static final Duration UNDO_WITHIN = Duration.ofMinutes(2);

    @Id
    private UUID id;

    private ClinicId clinicId;
    private @Nullable UUID referralId;
    private @Nullable UUID patientId;
    private @Nullable UUID visitId;
    private @Nullable UUID otherVisitKindId;
    private @Nullable String bookingRef;
    private UUID practitionerId;
    private UUID roomId;
    private LocalDate clinicDate;
    private Instant startsAt;
    private Instant endsAt;
    private int slotMinutes;
    private @Nullable Method methodPlanned;
    private @Nullable Ears ears;
    private boolean fitIn;
    private @Nullable String fitInReason;
    private AppointmentStatus status;
    private boolean holdsPlace;
    private boolean confirmed;
    private @Nullable CancelledBy cancelledBy;
    private @Nullable String cancelReason;
    private @Nullable Attendance attendance;
    private @Nullable Instant arrivedAt;
    private @Nullable Instant calledInAt;
    private @Nullable Instant steppedOutAt;
    private @Nullable Instant calledInAgainAt;
    private @Nullable Instant finishedAt;
    private @Nullable Instant roomReadyAt;
    private boolean timesEnteredLater;
    private @Nullable Instant turn;
    private @Nullable Instant comesAt;
    private @Nullable Instant toldAt;
    private @Nullable Integer toldMinutes;
    private @Nullable String note;
    private @Nullable String estimate;
    private @Nullable String estimateVersion;
    private @Nullable String suitedRight;
    private @Nullable String suitedLeft;
    private @Nullable Instant redFlagsAskedAt;
    private @Nullable String redFlagsAskedBy;
    private String bookedBy;
    private Instant bookedAt;

    @Version
    private int version;

    protected Appointment() {}

    private Appointment(UUID id, ClinicId clinicId, PlannedVisit planned, BookedPlace place, String by, Instant at) {
        this.id = id;
        this.clinicId = clinicId;
        this.referralId = planned.referralId();
        this.patientId = planned.patientId();
        this.otherVisitKindId = planned.otherVisitKindId();
        this.methodPlanned = planned.method();
        this.ears = planned.ears();
        this.estimate = planned.estimate();
        this.estimateVersion = planned.estimateVersion();
        this.bookedBy = by;
        this.bookedAt = at;
        this.status = AppointmentStatus.BOOKED;
        occupy(place);
    }

    /** Booked into a slot that nobody else can have. */
    public static Appointment booked(
            UUID id, ClinicId clinicId, PlannedVisit planned, BookedPlace place, String by, Instant at) {
        Appointment appointment = new Appointment(id, clinicId, planned, place, by, at);
        appointment.holdsPlace = true;
        return appointment;
    }

    /** Fitted in between the others: without a slot, for a reason. The place says from when and about how long. */
    public static Appointment fitIn(
            UUID id, ClinicId clinicId, PlannedVisit planned, BookedPlace place, String reason, String by, Instant at) {
        Appointment appointment = new Appointment(id, clinicId, planned, place, by, at);
        appointment.fitIn = true;
        appointment.fitInReason = reason;
        return appointment;
    }

    /** Takes over what another diary says of it: its reference, status and note. */
    public void takeOver(String reference, AppointmentStatus standing, @Nullable String words) {
        bookingRef = reference;
        note = words;
        status = standing;
        holdsPlace = holdsPlace
                && standing != AppointmentStatus.CANCELLED
                && standing != AppointmentStatus.NOSHOW
                && standing != AppointmentStatus.ENTERED_IN_ERROR
                && standing != AppointmentStatus.WAITLIST;
    }

    /** Changes the method or the ears. */
    public void replace(Method method, Ears which) {
        methodPlanned = method;
        ears = which;
    }

    /** Stores how its method suits each ear as it is booked. */
    void suits(Map<Ear, Verdict> verdicts) {
        suitedRight = verdicts.get(Ear.RIGHT).code();
        suitedLeft = verdicts.get(Ear.LEFT).code();
    }

    /** How its method suited each ear when it was booked; empty if that was not stored. */
    Map<Ear, Verdict> suitedAsBooked() {
        return suitedRight == null || suitedLeft == null
                ? Map.of()
                : Map.of(
                        Ear.RIGHT, Verdict.of(suitedRight).orElseThrow(),
                        Ear.LEFT, Verdict.of(suitedLeft).orElseThrow());
    }

    /** Moves it; the patient has to confirm again. */
    public Optional<BookingRefusal> moveTo(
            BookedPlace place, @Nullable String newEstimate, @Nullable String newVersion) {
        if (!status.toCome()) {
            return Optional.of(BookingRefusal.notNow("move", status));
        }
        occupy(place);
        holdsPlace = !fitIn;
        confirmed = false;
        turn = null;
        comesAt = null;
        estimate = newEstimate;
        estimateVersion = newVersion;
        return Optional.empty();
    }

    /** Frees its place, to be moved within the same change. */
    public void freePlace() {
        holdsPlace = false;
    }

    /** The patient has said to come. */
    public Optional<BookingRefusal> confirm() {
        if (!status.toCome()) {
            return Optional.of(BookingRefusal.notNow("confirm", status));
        }
        confirmed = true;
        status = AppointmentStatus.BOOKED;
        return Optional.empty();
    }

    /** Called off. */
    public Optional<BookingRefusal> cancel(CancelledBy by, String why) {
        if (!status.toCome() && !status.present() && status != AppointmentStatus.WAITLIST) {
            return Optional.of(BookingRefusal.notNow("cancel", status));
        }
        status = AppointmentStatus.CANCELLED;
        holdsPlace = false;
        cancelledBy = by;
        cancelReason = why;
        attendance = by.attendance();
        return Optional.empty();
    }

    /** Should never have been there: a booking undone at once, or a mistake. */
    public Optional<BookingRefusal> enterInError() {
        if (!status.toCome()) {
            return Optional.of(BookingRefusal.notNow("enter-in-error", status));
        }
        status = AppointmentStatus.ENTERED_IN_ERROR;
        holdsPlace = false;
        return Optional.empty();
    }

    /** The patient is there; also one who was marked as not attending. */
    public Optional<BookingRefusal> arrive(Instant at, AppointmentStatus arrivedOrCheckedIn) {
        boolean markedAbsent = attendance == Attendance.DID_NOT_ATTEND;
        boolean onlyArrived = status == AppointmentStatus.ARRIVED && arrivedOrCheckedIn != status;
        if (!status.toCome() && !onlyArrived && !markedAbsent) {
            return Optional.of(BookingRefusal.notNow("check-in", status));
        }
        if (arrivedAt == null) {
            arrivedAt = at;
        }
        status = arrivedOrCheckedIn;
        attendance = null;
        return Optional.empty();
    }

    /** Whether it is a visit for wax of a known patient that no referral asks for. */
    public boolean isWaxWithoutReferral() {
        return referralId == null && patientId != null && methodPlanned != null && ears != null;
    }

    /** A referral was made for a visit that had none. */
    public void serve(UUID referral) {
        referralId = referral;
    }

    /** At arrival it was asked whether anything is new since it was booked. */
    public void redFlagsAsked(String who, Instant at) {
        redFlagsAskedBy = who;
        redFlagsAskedAt = at;
    }

    /** The name is called, the patient enters the room. */
    public Optional<BookingRefusal> callIn(Instant at) {
        if (!status.toCome() && !status.present()) {
            return Optional.of(BookingRefusal.notNow("call-in", status));
        }
        if (arrivedAt != null && at.isBefore(arrivedAt)) {
            return Optional.of(BookingRefusal.of(TIMES_OUT_OF_ORDER));
        }
        calledInAt = at;
        status = AppointmentStatus.FULFILLED;
        attendance = attended();
        return Optional.empty();
    }

    /** The patient waits outside before a second try. */
    public Optional<BookingRefusal> stepOut(Instant at) {
        if (calledInAt == null || finishedAt != null || steppedOutAt != null) {
            return Optional.of(BookingRefusal.notNow("step-out", status));
        }
        if (!at.isAfter(calledInAt)) {
            return Optional.of(BookingRefusal.of(TIMES_OUT_OF_ORDER));
        }
        steppedOutAt = at;
        return Optional.empty();
    }

    /** The name is called a second time. */
    public Optional<BookingRefusal> callInAgain(Instant at) {
        if (steppedOutAt == null || finishedAt != null || calledInAgainAt != null) {
            return Optional.of(BookingRefusal.notNow("call-in-again", status));
        }
        if (!at.isAfter(steppedOutAt)) {
            return Optional.of(BookingRefusal.of(TIMES_OUT_OF_ORDER));
        }
        calledInAgainAt = at;
        return Optional.empty();
    }

    /** The patient leaves the room. */
    public Optional<BookingRefusal> finish(Instant at) {
        if (calledInAt == null || finishedAt != null) {
            return Optional.of(BookingRefusal.notNow("finish", status));
        }
        if (!at.isAfter(calledInAt)) {
            return Optional.of(BookingRefusal.of(TIMES_OUT_OF_ORDER));
        }
        if (isImplausible(new VisitTimes(arrivedAt, calledInAt, at, null))) {
            return Optional.of(BookingRefusal.of(IMPLAUSIBLE_SPAN));
        }
        // How much of it was time in the room is not known.
        timesEnteredLater |= isOutside();
        finishedAt = at;
        attendance = attendance == null ? attended() : attendance;
        return Optional.empty();
    }

    /** The patient says to come at that time, later than booked. */
    public Optional<BookingRefusal> expectLate(Instant at) {
        if (!status.toCome()) {
            return Optional.of(BookingRefusal.notNow("will-be-late", status));
        }
        comesAt = at;
        return Optional.empty();
    }

    /** The patient is not here after all. When somebody came plays no part in any estimate, so it is never too late for it. */
    public Optional<BookingRefusal> undoArrival() {
        if (!status.present()) {
            return Optional.of(BookingRefusal.notNow("undo-check-in", status));
        }
        arrivedAt = null;
        redFlagsAskedAt = null;
        redFlagsAskedBy = null;
        status = AppointmentStatus.BOOKED;
        return Optional.empty();
    }

    /**
     * Undoes the last press since the name was called, as if it had never been made: within {@link #UNDO_WITHIN} of it the
     * times are still those of a clock, later they can only be {@linkplain #correct corrected}.
     */
    public Optional<BookingRefusal> undoPress(Instant now) {
        if (status != AppointmentStatus.FULFILLED || calledInAt == null) {
            return Optional.of(BookingRefusal.notNow("undo-press", status));
        }
        Instant last = Stream.of(roomReadyAt, finishedAt, calledInAgainAt, steppedOutAt, calledInAt)
                .filter(Objects::nonNull)
                .findFirst()
                .orElseThrow();
        if (last.plus(UNDO_WITHIN).isBefore(now)) {
            return Optional.of(BookingRefusal.undoTooLate(UNDO_WITHIN.toMinutes()));
        }
        if (roomReadyAt != null) {
            roomReadyAt = null;
        } else if (finishedAt != null) {
            finishedAt = null;
        } else if (calledInAgainAt != null) {
            calledInAgainAt = null;
        } else if (steppedOutAt != null) {
            steppedOutAt = null;
        } else {
            calledInAt = null;
            attendance = null;
            status = arrivedAt == null ? AppointmentStatus.BOOKED : AppointmentStatus.CHECKED_IN;
        }
        return Optional.empty();
    }

    /** Is called in at another place of the list than the booked start gives. */
    public Optional<BookingRefusal> takeTurn(Instant given) {
        if (!status.toCome() && !status.present()) {
            return Optional.of(BookingRefusal.notNow("turn", status));
        }
        turn = given;
        return Optional.empty();
    }

    /** The patient was told that a wait of so many minutes is expected. */
    public Optional<BookingRefusal> tell(Instant at, int waitMinutes) {
        if (!status.toCome() && !status.present()) {
            return Optional.of(BookingRefusal.notNow("tell", status));
        }
        toldAt = at;
        toldMinutes = waitMinutes;
        return Optional.empty();
    }

    /** Surfaces, instruments and notes are done. */
    public Optional<BookingRefusal> makeRoomReady(Instant at) {
        if (finishedAt == null || roomReadyAt != null) {
            return Optional.of(BookingRefusal.notNow("room-ready", status));
        }
        if (at.isBefore(finishedAt)) {
            return Optional.of(BookingRefusal.of(TIMES_OUT_OF_ORDER));
        }
        if (isImplausible(new VisitTimes(arrivedAt, calledInAt, finishedAt, at))) {
            return Optional.of(BookingRefusal.of(IMPLAUSIBLE_SPAN));
        }
        roomReadyAt = at;
        return Optional.empty();
    }

    /** Nobody came. */
    public Optional<BookingRefusal> missVisit() {
        if (!status.toCome()) {
            return Optional.of(BookingRefusal.notNow("did-not-attend", status));
        }
        status = AppointmentStatus.NOSHOW;
        holdsPlace = false;
        attendance = Attendance.DID_NOT_ATTEND;
        return Optional.empty();
    }

    /** The patient came so late that there was no time left. */
    public Optional<BookingRefusal> turnAwayLate(Instant at) {
        if (!status.toCome() && !status.present()) {
            return Optional.of(BookingRefusal.notNow("late-not-seen", status));
        }
        if (arrivedAt == null) {
            arrivedAt = at;
        }
        status = AppointmentStatus.NOSHOW;
        holdsPlace = false;
        attendance = Attendance.LATE_NOT_SEEN;
        return Optional.empty();
    }

    /**
     * Whether its recorded times can be true: they follow each other, are of its own day by the clock of {@code zone}, not
     * later than {@code now}, and go with its status. Times that are not are shown, but nothing is computed from them.
     */
    public boolean hasPlausibleTimes(ZoneId zone, Instant now) {
        LocalClock clock = LocalClock.of(times(), zone);
        boolean called = status == AppointmentStatus.FULFILLED;
        boolean waiting = status.toCome() || status.present();
        return times().inOrder()
                && !times().hasGap()
                && clock.inOrder()
                && (!called || calledInAt != null)
                && (!waiting || calledInAt == null)
                && outsideInOrder()
                && Stream.of(arrivedAt, calledInAt, steppedOutAt, calledInAgainAt, finishedAt, roomReadyAt)
                        .filter(Objects::nonNull)
                        .allMatch(time -> !time.isAfter(now)
                                && LocalDate.ofInstant(time, zone).equals(clinicDate));
    }

    private boolean outsideInOrder() {
        Stream<@Nullable Instant> outside = Stream.of(calledInAt, steppedOutAt, calledInAgainAt, finishedAt);
        List<Instant> known = outside.filter(Objects::nonNull).toList();
        return known.equals(known.stream().sorted().toList())
                && (steppedOutAt == null || calledInAt != null)
                && (calledInAgainAt == null || steppedOutAt != null);
    }

    /** Corrects the times, or removes the last of them; they decide the status. */
    public Optional<BookingRefusal> correct(VisitTimes times) {
        if (!status.toCome() && !status.present() && status != AppointmentStatus.FULFILLED) {
            return Optional.of(BookingRefusal.notNow("correct", status));
        }
        if (!times.inOrder() || times.hasGap()) {
            return Optional.of(BookingRefusal.of(TIMES_OUT_OF_ORDER));
        }
        if (isImplausible(times)) {
            return Optional.of(BookingRefusal.of(IMPLAUSIBLE_SPAN));
        }
        timesEnteredLater |= !times.equals(times());
        arrivedAt = times.arrived();
        calledInAt = times.calledIn();
        finishedAt = times.finished();
        roomReadyAt = times.roomReady();
        if (calledInAt == null) {
            steppedOutAt = null;
            calledInAgainAt = null;
        }
        if (calledInAt != null) {
            status = AppointmentStatus.FULFILLED;
            attendance = attended();
        } else {
            status = arrivedAt == null ? AppointmentStatus.BOOKED : AppointmentStatus.CHECKED_IN;
            attendance = null;
        }
        return Optional.empty();
    }

    /** A time was not taken by the clock as it happened. */
    public void markTimesEnteredLater() {
        timesEnteredLater = true;
    }

    /** Takes over from an imported visit what became of it. */
    void takeTimesOf(Visit visit) {
        attendance = visit.attendance().orElse(null);
        arrivedAt = visit.arrived().orElse(null);
        calledInAt = visit.calledIn().orElse(null);
        finishedAt = visit.finished().orElse(null);
        roomReadyAt = visit.roomReady().orElse(null);
        timesEnteredLater = visit.timesEnteredLater();
        if (attendance != null) {
            status = switch (attendance) {
                case ATTENDED, ATTENDED_LATE -> AppointmentStatus.FULFILLED;
                case LATE_NOT_SEEN, DID_NOT_ATTEND -> AppointmentStatus.NOSHOW;
                case CANCELLED_BY_PATIENT, CANCELLED_BY_CLINIC -> AppointmentStatus.CANCELLED;
            };
            holdsPlace = holdsPlace && status == AppointmentStatus.FULFILLED;
        }
        link(visit.id());
    }

    /** Its record in the visit log. */
    void link(UUID visit) {
        visitId = visit;
    }

    /** What the visit log says of its day, except what was found and done. */
    public ClockRecord clockRecord() {
        boolean inRoom = calledInAt != null && finishedAt == null;
        Integer minutesOutside = steppedOutAt == null || calledInAgainAt == null
                ? null
                : Math.toIntExact(
                        Duration.between(steppedOutAt, calledInAgainAt).toMinutes());
        return new ClockRecord(times(), inRoom ? null : attendance, minutesOutside, timesEnteredLater);
    }

    /** Whether something of its day was recorded. */
    boolean hasHappened() {
        return attendance != null || !times().equals(VisitTimes.NONE);
    }

    /** Only visits of the log have a longest span; another kind of visit may take longer. */
    private boolean isImplausible(VisitTimes times) {
        return (methodPlanned != null || visitId != null) && times.hasImplausibleSpan();
    }

    private Attendance attended() {
        boolean late = !fitIn
                && arrivedAt != null
                && Duration.between(startsAt, arrivedAt).toMinutes() >= 1;
        return late ? Attendance.ATTENDED_LATE : Attendance.ATTENDED;
    }

    private void occupy(BookedPlace place) {
        practitionerId = place.practitionerId();
        roomId = place.roomId();
        clinicDate = place.date();
        startsAt = place.start();
        endsAt = place.end();
        slotMinutes = place.slotMinutes();
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public Optional<UUID> referralId() {
        return Optional.ofNullable(referralId);
    }

    public Optional<UUID> patientId() {
        return Optional.ofNullable(patientId);
    }

    public Optional<UUID> visitId() {
        return Optional.ofNullable(visitId);
    }

    public Optional<String> bookingRef() {
        return Optional.ofNullable(bookingRef);
    }

    /** What it is for. */
    public PlannedVisit planned() {
        return new PlannedVisit(
                referralId, patientId, otherVisitKindId, methodPlanned, ears, estimate, estimateVersion);
    }

    /** Its place in the diary; for a fit-in, from when and about how long. */
    public BookedPlace place() {
        return new BookedPlace(practitionerId, roomId, clinicDate, startsAt, slotMinutes);
    }

    public AppointmentStatus status() {
        return status;
    }

    /** Whether nobody else can be booked there. */
    public boolean holdsPlace() {
        return holdsPlace;
    }

    public boolean confirmed() {
        return confirmed;
    }

    public boolean fitIn() {
        return fitIn;
    }

    public Optional<String> fitInReason() {
        return Optional.ofNullable(fitInReason);
    }

    public Optional<CancelledBy> cancelledBy() {
        return Optional.ofNullable(cancelledBy);
    }

    public Optional<String> cancelReason() {
        return Optional.ofNullable(cancelReason);
    }

    /** What became of it, once that is known. */
    public Optional<Attendance> attendance() {
        return Optional.ofNullable(attendance);
    }

    /** What happened when. */
    public VisitTimes times() {
        return new VisitTimes(arrivedAt, calledInAt, finishedAt, roomReadyAt);
    }

    /** When the patient went outside to wait for a second try. */
    public Optional<Instant> steppedOut() {
        return Optional.ofNullable(steppedOutAt);
    }

    /** When the patient was called in again. */
    public Optional<Instant> calledInAgain() {
        return Optional.ofNullable(calledInAgainAt);
    }

    /** Its place in the order of calling: the turn that was given, else when one who comes late will be here, else the booked start. */
    public Instant turn() {
        if (turn != null) {
            return turn;
        }
        return comesAt != null && arrivedAt == null ? comesAt : startsAt;
    }

    /** When the patient says to come, if that is later than booked. */
    public Optional<Instant> comesAt() {
        return Optional.ofNullable(comesAt);
    }

    /** Whether another turn than the booked start's was given. */
    public boolean turnGiven() {
        return turn != null;
    }

    public Optional<Instant> toldAt() {
        return Optional.ofNullable(toldAt);
    }

    /** The wait that the patient was told of, minutes; 0 where none was. */
    public int toldMinutes() {
        return toldMinutes == null ? 0 : toldMinutes;
    }

    /** Whether the patient is outside between two call-ins. */
    public boolean isOutside() {
        return steppedOutAt != null && calledInAgainAt == null && finishedAt == null;
    }

    /** Who asked at arrival whether anything is new; empty if nobody did. */
    public Optional<String> redFlagsAskedBy() {
        return Optional.ofNullable(redFlagsAskedBy);
    }

    /** When it was asked at arrival whether anything is new. */
    public Optional<Instant> redFlagsAskedAt() {
        return Optional.ofNullable(redFlagsAskedAt);
    }

    public Optional<String> note() {
        return Optional.ofNullable(note);
    }

    public String bookedBy() {
        return bookedBy;
    }

    public Instant bookedAt() {
        return bookedAt;
    }

    /** Counts the changes; names the state for whoever changes it next. */
    public int version() {
        return version;
    }
}
