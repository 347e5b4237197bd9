package org.earslot.referral;

import jakarta.persistence.CascadeType;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.OneToMany;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.caution.UnknownCodes;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.Wax;
import org.jspecify.annotations.Nullable;

/** A request to see a patient: by a referrer, or by the patient. */
@Entity
public class Referral {

    @Id
    private UUID id;

    private UUID clinicId;
    private UUID patientId;
    private @Nullable String referrer;
    private LocalDate receivedOn;
    private String origin;
    private Answer shortNotice;
    private @Nullable String reason;
    private String priority;
    private Ears ears;
    private Method methodPlanned;
    private Answer firstVisit;
    private @Nullable Integer softenerDays;
    private @Nullable LocalDate notBefore;
    private @Nullable String lastTime;
    private @Nullable String mustFollow;
    private @Nullable LocalDate mustFollowBy;
    private @Nullable String redFlag;
    private @Nullable String redFlagsYes;
    private @Nullable String redFlagsNo;
    private @Nullable String redFlagsNotKnown;
    private @Nullable String cautionsNotKnown;
    private boolean cautionsAsked;
    private String status;
    private @Nullable String afterTriage;
    private @Nullable Wax rightWax;
    private @Nullable Canal rightCanal;
    private @Nullable Depth rightDepth;
    private @Nullable Occlusion rightOcclusion;
    private @Nullable Wax leftWax;
    private @Nullable Canal leftCanal;
    private @Nullable Depth leftDepth;
    private @Nullable Occlusion leftOcclusion;
    private Instant createdAt;
    private @Nullable UUID formKey;

    @OneToMany(cascade = CascadeType.ALL, orphanRemoval = true, fetch = FetchType.EAGER)
    @JoinColumn(name = "referral_id", nullable = false)
    private List<ReferralCaution> cautions = new ArrayList<>();

    @Version
    private int version;

    protected Referral() {}

    public Referral(UUID id, UUID clinicId, UUID patientId, ReferralDetails details, Instant createdAt) {
        this(id, clinicId, patientId, details, createdAt, null);
    }

    /** @param formKey of the form that it was typed into */
    Referral(
            UUID id,
            UUID clinicId,
            UUID patientId,
            ReferralDetails details,
            Instant createdAt,
            @Nullable UUID formKey) {
        this.formKey = formKey;
        this.id = id;
        this.clinicId = clinicId;
        this.patientId = patientId;
        this.createdAt = createdAt;
        this.status = ReferralStatus.TO_TRIAGE.code();
        amend(details);
        if (details.redFlagsAllNo()) {
            status = ReferralStatus.READY_TO_BOOK.code();
        }
    }

    /** Replaces what the referral says. */
    public final void amend(ReferralDetails details) {
        referrer = details.referrer();
        receivedOn = details.receivedOn();
        origin = details.origin().code();
        shortNotice = details.shortNotice();
        reason = details.reason();
        priority = details.priority().code();
        ears = details.ears();
        methodPlanned = details.methodPlanned();
        firstVisit = details.firstVisit();
        softenerDays = details.softenerDays();
        notBefore = details.notBefore();
        lastTime = details.lastTime();
        mustFollow = details.mustFollow();
        mustFollowBy = details.mustFollowBy();
        redFlag = details.redFlag();
        cautionsAsked = details.cautionsAsked();
        redFlagsYes = answered(redFlagsYes, details, Answer.YES);
        redFlagsNo = answered(redFlagsNo, details, Answer.NO);
        redFlagsNotKnown = answered(redFlagsNotKnown, details, Answer.NOT_KNOWN);
        List<UnknownCode> unclear = Codes.unknown(cautionsNotKnown, Caution.values());
        cautionsNotKnown = Codes.joined(details.cautionsNotKnown(), unclear);
        cautions.removeIf(one -> one.unknown().isEmpty());
        List<UnknownCode> stored = unknown().cautions();
        details.unknown().cautions().stream()
                .filter(code -> !stored.contains(code))
                .forEach(code -> cautions.add(new ReferralCaution(clinicId, code)));
        details.cautions().forEach(asked -> cautions.add(new ReferralCaution(clinicId, asked)));
        EarFindings right = details.reported(Ear.RIGHT);
        rightWax = right.wax();
        rightCanal = right.canal();
        rightDepth = right.depth();
        rightOcclusion = right.occlusion();
        EarFindings left = details.reported(Ear.LEFT);
        leftWax = left.wax();
        leftCanal = left.canal();
        leftDepth = left.depth();
        leftOcclusion = left.occlusion();
    }

    /** An answer in a code that is not known here cannot be replaced by a form that does not show it. */
    private static @Nullable String answered(@Nullable String before, ReferralDetails said, Answer answer) {
        return Codes.joined(said.redFlagsAnswered(answer), Codes.unknown(before, RedFlag.values()));
    }

    /** Moves the referral on; whoever books, cancels or closes says so here. */
    public void standAt(ReferralStatus newStatus) {
        status = newStatus.code();
    }

    /** Is of another record of the same person. */
    void belongTo(UUID patient) {
        patientId = patient;
    }

    /** Plans another method. */
    void plan(Method method) {
        methodPlanned = method;
    }

    /** A red flag stops it, or is still to be asked; its status before is remembered for when it may go on. */
    void holdForTriage() {
        if (status() != ReferralStatus.TO_TRIAGE) {
            afterTriage = status;
            status = ReferralStatus.TO_TRIAGE.code();
        }
    }

    /** Red flags are still to be asked: what is not booked yet waits for the answers. */
    void holdUntilAsked() {
        if (status() == ReferralStatus.READY_TO_BOOK || status() == ReferralStatus.WAITING) {
            holdForTriage();
        }
    }

    /** Nothing holds it any longer: it goes on with the status it had before. */
    void triaged() {
        if (status() == ReferralStatus.TO_TRIAGE) {
            status = afterTriage == null ? ReferralStatus.READY_TO_BOOK.code() : afterTriage;
            afterTriage = null;
        }
    }

    /** A clinician has sent the person on. */
    void sentOn() {
        status = ReferralStatus.CLOSED.code();
        afterTriage = null;
    }

    /** Its appointment is no more; one that waits for a clinician goes on waiting. Whether anything changed. */
    public boolean losesItsAppointment() {
        if (status() == ReferralStatus.BOOKED) {
            status = ReferralStatus.READY_TO_BOOK.code();
            return true;
        }
        boolean wasBooked = ReferralStatus.BOOKED.code().equals(afterTriage);
        afterTriage = wasBooked ? null : afterTriage;
        return wasBooked;
    }

    public UUID id() {
        return id;
    }

    public UUID clinicId() {
        return clinicId;
    }

    public UUID patientId() {
        return patientId;
    }

    public ReferralStatus status() {
        return ReferralStatus.of(status).orElseThrow();
    }

    public Instant createdAt() {
        return createdAt;
    }

    public int version() {
        return version;
    }

    /** Everything the referral says. */
    public ReferralDetails details() {
        return new ReferralDetails(
                referrer,
                receivedOn,
                reason,
                Priority.of(priority).orElseThrow(),
                ears,
                methodPlanned,
                firstVisit,
                softenerDays,
                notBefore,
                lastTime,
                mustFollow,
                mustFollowBy,
                redFlag,
                cautionsAsked,
                cautions.stream().flatMap(one -> one.asked().stream()).toList(),
                Map.of(
                        Ear.RIGHT, new EarFindings(rightWax, rightCanal, rightDepth, rightOcclusion),
                        Ear.LEFT, new EarFindings(leftWax, leftCanal, leftDepth, leftOcclusion)),
                answers(),
                Set.copyOf(Codes.read(cautionsNotKnown, Caution::of)),
                Origin.of(origin).orElseThrow(),
                shortNotice,
                unknown());
    }

    private UnknownCodes unknown() {
        return new UnknownCodes(
                Stream.concat(
                                cautions.stream().flatMap(one -> one.unknown().stream()),
                                Codes.unknown(cautionsNotKnown, Caution.values()).stream())
                        .distinct()
                        .toList(),
                Stream.concat(
                                Codes.unknown(redFlagsYes, RedFlag.values()).stream(),
                                Codes.unknown(redFlagsNotKnown, RedFlag.values()).stream())
                        .distinct()
                        .toList());
    }

    private Map<RedFlag, Answer> answers() {
        Map<RedFlag, Answer> answers = new EnumMap<>(RedFlag.class);
        Codes.read(redFlagsNo, RedFlag::of).forEach(flag -> answers.put(flag, Answer.NO));
        Codes.read(redFlagsNotKnown, RedFlag::of).forEach(flag -> answers.put(flag, Answer.NOT_KNOWN));
        Codes.read(redFlagsYes, RedFlag::of).forEach(flag -> answers.put(flag, Answer.YES));
        return answers;
    }
}
