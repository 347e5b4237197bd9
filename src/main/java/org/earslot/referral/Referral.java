package org.earslot.referral;

import jakarta.persistence.CascadeType;
import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.OneToMany;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.caution.CautionAnswers;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.jspecify.annotations.Nullable;

/** A request to see a patient: by a referrer, or by the patient. */
@Entity
public class Referral {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID patientId;

    @Embedded
    private ReferralSource source;

    @Embedded
    private VisitRequest request;

    @Embedded
    private @Nullable ReportedEars reported;

    @Embedded
    private @Nullable RedFlagColumns redFlags;

    private @Nullable String cautionsNotKnown;
    private boolean cautionsAsked;
    private String status;
    private @Nullable String afterTriage;
    private @Nullable String closedBecause;
    private Instant createdAt;
    private @Nullable UUID formKey;

    @OneToMany(cascade = CascadeType.ALL, orphanRemoval = true, fetch = FetchType.EAGER)
    @JoinColumn(name = "referral_id", nullable = false)
    private List<ReferralCaution> cautions = new ArrayList<>();

    @Version
    private int version;

    protected Referral() {}

    public Referral(UUID id, ClinicId clinicId, UUID patientId, ReferralDetails details, Instant createdAt) {
        this(id, clinicId, patientId, details, createdAt, null);
    }

    /** @param formKey of the form that it was typed into */
    Referral(
            UUID id,
            ClinicId clinicId,
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
        if (details.redFlags().allNo()) {
            status = ReferralStatus.READY_TO_BOOK.code();
        }
    }

    /** Replaces what the referral says. */
    public final void amend(ReferralDetails details) {
        source = details.source();
        request = details.request();
        reported = details.reported();
        redFlags = redFlags().replacedBy(details.redFlags());
        amend(details.cautions());
    }

    private void amend(CautionAnswers answers) {
        cautionsAsked = answers.asked();
        cautionsNotKnown = Codes.joined(answers.notKnown(), Codes.unknown(cautionsNotKnown, Caution.values()));
        cautions.removeIf(one -> one.unknown().isEmpty());
        List<UnknownCode> stored = cautionAnswers().unknown();
        answers.unknown().stream()
                .filter(code -> !stored.contains(code))
                .forEach(code -> cautions.add(new ReferralCaution(clinicId, code)));
        answers.yes().forEach(asked -> cautions.add(new ReferralCaution(clinicId, asked)));
    }

    /** Moves the referral on; whoever books, cancels or closes says so here. */
    public void setStatus(ReferralStatus newStatus) {
        status = newStatus.code();
    }

    /** Comes to its end without a visit. */
    void close(String because) {
        status = ReferralStatus.CLOSED.code();
        closedBecause = because;
    }

    /** Was closed by mistake, or too early: it goes on as if it had just come in. */
    void undoClosing() {
        status = details().redFlags().allNo() ? ReferralStatus.READY_TO_BOOK.code() : ReferralStatus.TO_TRIAGE.code();
        closedBecause = null;
    }

    /** Is of another record of the same person. */
    void belongTo(UUID patient) {
        patientId = patient;
    }

    /** Plans another method. */
    void plan(Method method) {
        request = request.by(method);
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
    public boolean reopen() {
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

    public ClinicId clinicId() {
        return clinicId;
    }

    public UUID patientId() {
        return patientId;
    }

    public ReferralStatus status() {
        return ReferralStatus.of(status).orElseThrow();
    }

    /** Why it was closed; empty for one that is not, or whose appointment has been. */
    public Optional<String> closedBecause() {
        return Optional.ofNullable(closedBecause);
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
                source,
                request,
                Objects.requireNonNullElse(reported, ReportedEars.UNKNOWN),
                cautionAnswers(),
                redFlags().answers());
    }

    /** Nothing in any of its columns reads as null. */
    private RedFlagColumns redFlags() {
        return Objects.requireNonNullElse(redFlags, RedFlagColumns.NONE);
    }

    private CautionAnswers cautionAnswers() {
        return new CautionAnswers(
                cautionsAsked,
                cautions.stream().flatMap(one -> one.asked().stream()).toList(),
                Set.copyOf(Codes.read(cautionsNotKnown, Caution::of)),
                Stream.concat(
                                cautions.stream().flatMap(one -> one.unknown().stream()),
                                Codes.unknown(cautionsNotKnown, Caution.values()).stream())
                        .distinct()
                        .toList());
    }
}
