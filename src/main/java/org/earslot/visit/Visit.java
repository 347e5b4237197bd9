package org.earslot.visit;

import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.VisitCheck;
import org.hibernate.annotations.EmbeddedColumnNaming;
import org.jspecify.annotations.Nullable;

/** One visit: its own copy of what was booked, and what happened. */
@Entity
public class Visit {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String visitRef;
    private String patientRef;

    @Column(name = "visit_date")
    private LocalDate date;

    private UUID practitionerId;
    private @Nullable UUID roomId;
    private @Nullable Attendance attendance;
    private Method methodPlanned;
    private Ears ears;
    private Answer firstVisit;
    private Answer hearingAid;
    private String cautions;
    private @Nullable Integer softenerDays;
    private @Nullable String referrer;

    @Embedded
    @EmbeddedColumnNaming("right_%s")
    private @Nullable EarEntry right;

    @Embedded
    @EmbeddedColumnNaming("left_%s")
    private @Nullable EarEntry left;

    private @Nullable Instant bookedStart;
    private @Nullable Integer slotMinutes;
    private boolean fitIn;
    private @Nullable Instant arrived;
    private @Nullable Instant calledIn;
    private @Nullable Instant finished;
    private @Nullable Instant roomReady;
    private @Nullable StoppedEarly stoppedEarly;
    private @Nullable String note;
    private @Nullable String checks;
    private boolean timesEnteredLater;
    private int outsideMinutes;
    private boolean calledInAgain;
    private @Nullable NextStep nextStep;
    private @Nullable String estimatedQuantiles;
    private @Nullable String estimateVersion;
    private String source;
    private @Nullable String contentHash;

    @Version
    private int version;

    protected Visit() {}

    /** A visit that is booked, with nothing of the day itself known yet. */
    public static Visit booked(BookedVisit booked) {
        Visit visit = new Visit();
        visit.id = UUID.randomUUID();
        visit.clinicId = booked.clinicId();
        visit.visitRef = booked.visitRef();
        visit.source = "clinic";
        visit.copy(booked);
        return visit;
    }

    /** Copies the booking as it is now: moved to another place, or for another method. Its reference stays. */
    public void rebook(BookedVisit booked) {
        copy(booked);
        changed();
    }

    private void copy(BookedVisit booked) {
        patientRef = booked.patientRef();
        date = booked.date();
        practitionerId = booked.practitionerId();
        roomId = booked.roomId();
        methodPlanned = booked.methodPlanned();
        ears = booked.ears();
        firstVisit = booked.firstVisit();
        hearingAid = booked.hearingAid();
        cautions = booked.cautions().stream().sorted().map(Caution::code).collect(Collectors.joining(";"));
        softenerDays = booked.softenerDays();
        referrer = booked.referrer();
        entry(Ear.RIGHT).report(booked.reported(Ear.RIGHT));
        entry(Ear.LEFT).report(booked.reported(Ear.LEFT));
        bookedStart = booked.bookedStart();
        slotMinutes = booked.slotMinutes();
        fitIn = booked.fitIn();
        estimatedQuantiles = booked.estimatedQuantiles();
        estimateVersion = booked.estimateVersion();
    }

    /**
     * Writes what was recorded of the day. Writing the same again changes nothing. That a time was entered later is never
     * forgotten.
     */
    public void write(ClockRecord record) {
        ClockRecord before = clockRecord();
        VisitTimes times = record.times();
        arrived = times.arrived();
        calledIn = times.calledIn();
        finished = times.finished();
        roomReady = times.roomReady();
        attendance = record.attendance();
        calledInAgain = record.minutesOutside() != null;
        outsideMinutes = record.minutesOutside() == null ? 0 : record.minutesOutside();
        timesEnteredLater |= record.timesEnteredLater();
        if (!clockRecord().equals(before)) {
            changed();
        }
    }

    /** What was done to {@code ear} and what came of it; an ear that was not planned may be treated too. */
    public void recordFindings(Ear ear, EarRecord record) {
        entry(ear).record(record);
        changed();
    }

    /** Whether and why the visit was stopped before its end; null if that is not recorded. */
    public void stop(@Nullable StoppedEarly why) {
        stoppedEarly = why;
        changed();
    }

    /** What the practitioner decides to do next; null if nothing is decided. */
    public void decide(@Nullable NextStep step) {
        nextStep = step;
        changed();
    }

    /** Free text; blank removes the note. */
    public void note(@Nullable String text) {
        note = text == null || text.isBlank() ? null : text.strip();
        changed();
    }

    /** Ticks what was checked in the room, or removes the tick. */
    public void tick(VisitCheck check, boolean done) {
        Set<VisitCheck> ticked = EnumSet.noneOf(VisitCheck.class);
        ticked.addAll(checks());
        if (done) {
            ticked.add(check);
        } else {
            ticked.remove(check);
        }
        checks = ticked.isEmpty() ? null : ticked.stream().map(VisitCheck::code).collect(Collectors.joining(";"));
    }

    /** What it says is no longer what an import wrote. */
    private void changed() {
        contentHash = null;
    }

    private EarEntry entry(Ear ear) {
        if (ear == Ear.RIGHT) {
            right = right == null ? new EarEntry() : right;
            return right;
        }
        left = left == null ? new EarEntry() : left;
        return left;
    }

    private Optional<EarEntry> known(Ear ear) {
        return Optional.ofNullable(ear == Ear.RIGHT ? right : left);
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public String visitRef() {
        return visitRef;
    }

    public String patientRef() {
        return patientRef;
    }

    public LocalDate date() {
        return date;
    }

    public UUID practitionerId() {
        return practitionerId;
    }

    public Optional<UUID> roomId() {
        return Optional.ofNullable(roomId);
    }

    /** Empty while the visit is still open. */
    public Optional<Attendance> attendance() {
        return Optional.ofNullable(attendance);
    }

    /** Whether the patient was seen: attended, or arrived late and seen. */
    public boolean wasSeen() {
        return attendance != null && attendance.wasSeen();
    }

    public Method methodPlanned() {
        return methodPlanned;
    }

    public Ears ears() {
        return ears;
    }

    public Answer firstVisit() {
        return firstVisit;
    }

    public Answer hearingAid() {
        return hearingAid;
    }

    /** The cautions in the order in which they were given. */
    public Set<Caution> cautions() {
        Set<Caution> known = new LinkedHashSet<>();
        Arrays.stream(cautions.split(";"))
                .flatMap(code -> Caution.of(code).stream())
                .forEach(known::add);
        return Collections.unmodifiableSet(known);
    }

    /** Cautions known then or found at the visit that are stored in codes which are not known here. */
    public List<UnknownCode> unknownCautions() {
        return Stream.concat(
                        UnknownCode.among(Arrays.stream(cautions.split(";")), Caution.values()).stream(),
                        Arrays.stream(Ear.values())
                                .flatMap(ear -> known(ear).stream())
                                .flatMap(entry -> entry.unknownFound().stream()))
                .distinct()
                .toList();
    }

    public Optional<Integer> softenerDays() {
        return Optional.ofNullable(softenerDays);
    }

    public Optional<String> referrer() {
        return Optional.ofNullable(referrer);
    }

    /** What the referral said of {@code ear}. */
    public EarFindings reported(Ear ear) {
        return known(ear).map(EarEntry::reported).orElse(EarFindings.UNKNOWN);
    }

    /** Everything recorded of {@code ear}. */
    public EarRecord recorded(Ear ear) {
        return known(ear).map(EarEntry::recorded).orElse(EarRecord.EMPTY);
    }

    /** What was found in {@code ear}. */
    public EarFindings found(Ear ear) {
        return recorded(ear).found();
    }

    /** The methods used on {@code ear}, in order. */
    public List<Method> methods(Ear ear) {
        return recorded(ear).methods();
    }

    public Optional<Outcome> outcome(Ear ear) {
        return Optional.ofNullable(recorded(ear).outcome());
    }

    public Optional<Instant> bookedStart() {
        return Optional.ofNullable(bookedStart);
    }

    public Optional<Integer> slotMinutes() {
        return Optional.ofNullable(slotMinutes);
    }

    public boolean fitIn() {
        return fitIn;
    }

    public VisitTimes times() {
        return new VisitTimes(arrived, calledIn, finished, roomReady);
    }

    /** What was recorded of its day. */
    public ClockRecord clockRecord() {
        return new ClockRecord(times(), attendance, calledInAgain ? outsideMinutes : null, timesEnteredLater);
    }

    public Optional<Instant> arrived() {
        return Optional.ofNullable(arrived);
    }

    public Optional<Instant> calledIn() {
        return Optional.ofNullable(calledIn);
    }

    public Optional<Instant> finished() {
        return Optional.ofNullable(finished);
    }

    public Optional<Instant> roomReady() {
        return Optional.ofNullable(roomReady);
    }

    /** From called in to finished without the minutes outside, where both are known. */
    public Optional<Duration> timeInRoom() {
        return calledIn == null || finished == null
                ? Optional.empty()
                : Optional.of(Duration.between(calledIn, finished).minusMinutes(outsideMinutes));
    }

    public Optional<StoppedEarly> stoppedEarly() {
        return Optional.ofNullable(stoppedEarly);
    }

    /** What the practitioner decided to do next; empty while nothing is decided. */
    public Optional<NextStep> nextStep() {
        return Optional.ofNullable(nextStep);
    }

    /** Whether the patient was called in a second time after water was instilled. */
    public boolean calledInAgain() {
        return calledInAgain;
    }

    public Optional<String> note() {
        return Optional.ofNullable(note);
    }

    /** What was ticked in the room. */
    public Set<VisitCheck> checks() {
        return checks == null
                ? Set.of()
                : Arrays.stream(checks.split(";"))
                        .flatMap(code -> VisitCheck.of(code).stream())
                        .collect(Collectors.toUnmodifiableSet());
    }

    /** What was not ticked, in the order of the list. */
    public List<VisitCheck> unchecked() {
        Set<VisitCheck> ticked = checks();
        return Arrays.stream(VisitCheck.values())
                .filter(check -> !ticked.contains(check))
                .toList();
    }

    /** Whether times were entered or corrected later, so that the fit leaves the visit out. */
    public boolean timesEnteredLater() {
        return timesEnteredLater;
    }

    public Optional<String> estimatedQuantiles() {
        return Optional.ofNullable(estimatedQuantiles);
    }

    public Optional<String> estimateVersion() {
        return Optional.ofNullable(estimateVersion);
    }

    /** Whether the visit came by an import, not from the clinic's own day. */
    public boolean imported() {
        return source.equals("import");
    }

    public int version() {
        return version;
    }
}
