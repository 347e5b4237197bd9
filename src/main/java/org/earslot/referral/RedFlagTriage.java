package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.UnknownCode;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What happens once a red flag is raised: it goes to a named clinician, who alone says what follows. */
@Service
public class RedFlagTriage {

    private final RedFlagCases cases;
    private final RedFlagSteps steps;
    private final Referrals referrals;
    private final ReferralPolicies policies;
    private final Practitioners practitioners;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    RedFlagTriage(
            RedFlagCases cases,
            RedFlagSteps steps,
            Referrals referrals,
            ReferralPolicies policies,
            Practitioners practitioners,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.cases = cases;
        this.steps = steps;
        this.referrals = referrals;
        this.policies = policies;
        this.practitioners = practitioners;
        this.clock = clock;
        this.events = events;
    }

    /**
     * Judges what a referral says of red flags: a yes, a "not known" or own words that no clinician has decided on open a
     * case; a referral with an open case, or with questions still to be asked, is held.
     *
     * @param clinicianId who a case goes to; null for the one the lead has settled
     */
    @Transactional
    public void judge(Referral referral, @Nullable UUID clinicianId, String who) {
        RedFlagAnswers said = referral.details().redFlags();
        boolean undecided = said.stop() && decisions(referral).leaveOpen(said);
        if (open(referral).isPresent() || undecided) {
            raise(referral, said, clinicianId, who);
        }
        holdOrLetGo(referral);
    }

    /**
     * Opens a case for what was said now, or adds it to the open one, whatever was decided before.
     *
     * @param said what was answered now, and nothing else
     */
    @Transactional
    public RedFlagCase raise(Referral referral, RedFlagAnswers said, @Nullable UUID clinicianId, String who) {
        Optional<RedFlagCase> open = open(referral);
        open.ifPresent(one -> one.hear(said));
        RedFlagCase raised = open.orElseGet(() -> {
            RedFlagCase made = cases.save(
                    new RedFlagCase(referral, said, goesTo(referral.clinicId(), clinicianId), who, clock.now()));
            note(referral, made, RedFlagStep.What.RAISED, null, who);
            return made;
        });
        referral.holdForTriage();
        return raised;
    }

    /** Holds the referral while a case is open or questions are still to be asked; lets it go on otherwise. */
    @Transactional
    public void holdOrLetGo(Referral referral) {
        if (open(referral).isPresent()) {
            referral.holdForTriage();
        } else if (stillToAsk(referral).isEmpty() && notUnderstood(referral).isEmpty()) {
            referral.triaged();
        } else {
            referral.holdUntilAsked();
        }
    }

    /** The red flags still to be asked; those that a clinician has let pass unasked are not among them. */
    @Transactional(readOnly = true)
    public List<RedFlag> stillToAsk(Referral referral) {
        RedFlagAnswers said = referral.details().redFlags();
        return said.complete() ? List.of() : decisions(referral).stillToAsk(said);
    }

    /** What the referral says of red flags in codes that are not known here, and that no clinician has decided on. */
    @Transactional(readOnly = true)
    public List<UnknownCode> notUnderstood(Referral referral) {
        RedFlagAnswers said = referral.details().redFlags();
        return said.unknown().isEmpty() ? List.of() : decisions(referral).stillUnknown(said);
    }

    /** The red flag that stops the referral now. */
    @Transactional(readOnly = true)
    public Optional<RedFlagCase> open(Referral referral) {
        return cases.findFirstByClinicIdAndReferralIdAndSettledAtIsNull(referral.clinicId(), referral.id());
    }

    /** Names the clinician it goes to; false where there is no open red flag or no such clinician. */
    @Transactional
    public boolean name(Referral referral, UUID clinicianId, String who) {
        Optional<RedFlagCase> open = open(referral);
        if (open.isEmpty() || known(referral.clinicId(), clinicianId).isEmpty()) {
            return false;
        }
        open.get().name(clinicianId);
        note(referral, open.get(), RedFlagStep.What.NAMED, null, who);
        return true;
    }

    /** Records that nobody could be reached; false if no red flag is open. */
    @Transactional
    public boolean notReached(Referral referral, String words, String who) {
        Optional<RedFlagCase> open = open(referral);
        open.ifPresent(one -> note(referral, one, RedFlagStep.What.NOT_REACHED, words, who));
        return open.isPresent();
    }

    /** A clinician will look at the patient here: an appointment may be made, the case stays open. */
    @Transactional
    public boolean seeHere(Referral referral, @Nullable String words, String who) {
        Optional<RedFlagCase> open = open(referral);
        open.ifPresent(one -> {
            one.seeHere(clock.now());
            note(referral, one, RedFlagStep.What.SEE_HERE, words, who);
        });
        return open.isPresent();
    }

    /** Keeps that the clinician, or the patient, was told; false where there is no open red flag. */
    @Transactional
    public boolean told(Referral referral, String words, String who) {
        Optional<RedFlagCase> open = open(referral);
        open.ifPresent(one -> note(referral, one, RedFlagStep.What.TOLD, words, who));
        return open.isPresent();
    }

    /** A clinician has sent the person on; the referral ends here. False if nothing is open or still to be asked. */
    @Transactional
    public boolean sendOn(Referral referral, String words, String who) {
        return settle(referral, RedFlagStep.What.SENT_ON, words, who);
    }

    /** A clinician says that routine booking may go on, with questions still to be asked if there are any. */
    @Transactional
    public boolean clear(Referral referral, String words, String who) {
        return settle(referral, RedFlagStep.What.CLEARED, words, who);
    }

    /** Red flags go to this clinician from now on; null for nobody. */
    @Transactional
    public boolean sendRedFlagsTo(ClinicId clinicId, @Nullable UUID clinicianId) {
        if (clinicianId != null && known(clinicId, clinicianId).isEmpty()) {
            return false;
        }
        ReferralPolicy policy = policies.of(clinicId);
        policy.sendRedFlagsTo(clinicianId);
        policies.save(policy);
        events.publishEvent(
                new Audited.Entry(clinicId, "red-flags-go-to", "set-up", String.valueOf(clinicianId), null));
        return true;
    }

    /** All that was done about these, oldest first. */
    @Transactional(readOnly = true)
    public List<RedFlagStep> steps(ClinicId clinicId, List<RedFlagCase> raised) {
        return steps.findByClinicIdAndCaseIdInOrderByAt(
                clinicId, raised.stream().map(RedFlagCase::id).toList());
    }

    private boolean settle(Referral stale, RedFlagStep.What as, String words, String who) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        Optional<RedFlagCase> open = open(referral)
                .or(() -> stillToAsk(referral).isEmpty()
                                && notUnderstood(referral).isEmpty()
                        ? Optional.empty()
                        : Optional.of(cases.save(
                                new RedFlagCase(referral, referral.details().redFlags(), null, who, clock.now()))));
        open.ifPresent(one -> {
            one.settle(as, referral.details().redFlags(), clock.now());
            if (as == RedFlagStep.What.CLEARED) {
                referral.triaged();
            } else {
                referral.sentOn();
            }
            note(referral, one, as, words, who);
        });
        return open.isPresent();
    }

    private RedFlagDecisions decisions(Referral referral) {
        return RedFlagDecisions.of(
                cases.findByClinicIdAndReferralIdOrderByRaisedAtDesc(referral.clinicId(), referral.id()));
    }

    private @Nullable UUID goesTo(ClinicId clinicId, @Nullable UUID clinicianId) {
        return known(clinicId, clinicianId)
                .or(() -> policies.of(clinicId).redFlagClinicianId().flatMap(id -> known(clinicId, id)))
                .orElse(null);
    }

    private Optional<UUID> known(ClinicId clinicId, @Nullable UUID clinicianId) {
        return Optional.ofNullable(clinicianId)
                .flatMap(id -> practitioners.findByClinicIdAndId(clinicId, id))
                .filter(Practitioner::active)
                .map(Practitioner::id);
    }

    private void note(Referral referral, RedFlagCase about, RedFlagStep.What what, @Nullable String words, String who) {
        steps.save(new RedFlagStep(referral.clinicId(), about.id(), what, words, who, clock.now()));
        events.publishEvent(new Audited.Entry(
                        referral.clinicId(),
                        "red-flag-" + what.code().replace('_', '-'),
                        "referral",
                        referral.id().toString(),
                        null)
                .about(referral.patientId()));
    }
}
