package org.earslot.referral;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.PatientCaution.Basis;
import org.earslot.caution.PatientCautions;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;
import org.earslot.page.FormVersion;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.PatientRegister;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** Takes referrals in, changes them and moves them on. */
@Service
public class Intake {

    /**
     * Who takes a referral.
     *
     * @param who the sign-in name
     * @param clinicianId the clinician named for a red flag; null for the one the lead has settled
     */
    public record Taker(String who, @Nullable UUID clinicianId) {}

    private final PatientRegister patients;
    private final Referrals referrals;
    private final RedFlagTriage triage;
    private final PatientCautions cautions;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Intake(
            PatientRegister patients,
            Referrals referrals,
            RedFlagTriage triage,
            PatientCautions cautions,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.patients = patients;
        this.referrals = referrals;
        this.triage = triage;
        this.cautions = cautions;
        this.clock = clock;
        this.events = events;
    }

    /**
     * Takes in a referral. A patient known by that number gets what is said of the person in addition, unless name or date
     * of birth differ: then nothing is stored until somebody says who is meant, nor for one recorded as deceased until
     * somebody confirms it. A red flag goes to {@code taker}'s named clinician.
     */
    @Transactional
    public TakenIn takeIn(ClinicId clinicId, NewReferral given, Taker taker) {
        patients.hold(clinicId);
        Optional<Referral> before =
                Optional.ofNullable(given.formKey()).flatMap(key -> referrals.findByClinicIdAndFormKey(clinicId, key));
        if (before.isPresent()) {
            return new TakenIn.Done(before.get());
        }
        String number = given.localNumber();
        Optional<Patient> known = patients.known(clinicId, number);
        List<String> differing = known.map(patient -> patient.details().contradictedBy(given.person()))
                .orElse(List.of());
        if (!differing.isEmpty() && !given.samePerson()) {
            return new TakenIn.PatientDiffers(known.get(), differing);
        }
        if (known.filter(Patient::deceased).isPresent() && !given.thoughDeceased()) {
            return new TakenIn.PatientDeceased(known.get());
        }
        known.ifPresent(patient -> patients.amend(patient, patient.details().completedBy(given.person()), taker.who()));
        Patient patient = known.orElseGet(() -> patients.add(clinicId, number, given.person()));
        return new TakenIn.Done(takeIn(patient, given.said(), given.formKey(), taker));
    }

    /** Takes in another referral of the patient with that number; nothing new is said of the person. */
    @Transactional
    public Referral takeIn(ClinicId clinicId, String localNumber, ReferralDetails said, Taker taker) {
        patients.hold(clinicId);
        Patient patient = patients.known(clinicId, localNumber)
                .orElseGet(() -> patients.add(clinicId, localNumber, PatientDetails.UNKNOWN));
        return takeIn(patient, said, null, taker);
    }

    private Referral takeIn(Patient patient, ReferralDetails said, @Nullable UUID formKey, Taker taker) {
        Referral referral = referrals.save(
                new Referral(UUID.randomUUID(), patient.clinicId(), patient.id(), said, clock.now(), formKey));
        recordCautions(referral, taker);
        announce(referral, "referral-taken-in");
        triage.judge(referral, taker.clinicianId(), taker.who());
        return referral;
    }

    /** The version of a referral and of its patient, as a form that shows both carries it. */
    public static FormVersion version(Referral referral, Patient patient) {
        return FormVersion.of(referral.version(), patient.version());
    }

    /** Replaces what a referral says and what is known of its patient; red flags answered otherwise are judged again. */
    @Transactional
    public void amend(Referral stale, PatientDetails person, ReferralDetails said, Taker taker) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        patients.find(referral.clinicId(), referral.patientId())
                .ifPresent(patient -> patients.amend(patient, person, taker.who()));
        amend(referral, said, taker);
    }

    /** Replaces what a referral says, within the transaction that has read it. */
    @Transactional(propagation = Propagation.MANDATORY)
    public void amend(Referral referral, ReferralDetails given, Taker taker) {
        ReferralDetails before = referral.details();
        ReferralDetails said = given.withUnknownOf(before);
        referral.amend(said);
        recordCautions(referral, taker);
        announce(referral, "referral-amended", String.join(", ", said.changedSince(before)));
        if (!said.redFlags().equals(before.redFlags())) {
            triage.judge(referral, taker.clinicianId(), taker.who());
        }
    }

    /**
     * Red flags were asked again, as at arrival. What was answered before and not asked now remains; a yes, a "not known"
     * or own words go to a clinician whatever was decided before.
     *
     * @param said what was answered and said now
     * @return the case that the answers open or add to; empty if every answer is no
     */
    @Transactional
    public Optional<RedFlagCase> answerRedFlags(Referral stale, RedFlagAnswers said, Taker taker) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        ReferralDetails before = referral.details();
        referral.amend(before.with(before.redFlags().updatedBy(said)));
        announce(referral, "red-flags-answered");
        if (said.stop()) {
            return Optional.of(triage.raise(referral, said, taker.clinicianId(), taker.who()));
        }
        triage.holdOrLetGo(referral);
        return Optional.empty();
    }

    /** The list of cautions was read out again: what was said before remains, and these are added. */
    @Transactional
    public void addCautions(Referral stale, Collection<AskedCaution> yes, Taker taker) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        ReferralDetails before = referral.details();
        CautionAnswers said = before.cautions();
        List<AskedCaution> all =
                Stream.concat(said.yes().stream(), yes.stream()).distinct().toList();
        referral.amend(before.with(new CautionAnswers(true, all, said.notKnown(), said.unknown())));
        recordCautions(referral, taker);
        announce(referral, "cautions-answered");
    }

    /** Plans another method, unless it is booked already, so that the appointment's length would no longer fit. */
    @Transactional
    public Optional<ReferralRefusal> plan(Referral stale, Method method) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        if (referral.status() == ReferralStatus.BOOKED) {
            return Optional.of(ReferralRefusal.METHOD_OF_BOOKED);
        }
        referral.plan(method);
        announce(referral, "referral-method-planned");
        return Optional.empty();
    }

    /**
     * Moves a referral to the waiting list or to its end; a booked one is moved by its appointment alone, one with a red
     * flag by a clinician, and one with questions still to be asked, or of a patient who has died, only to its end. Empty if
     * it is done.
     */
    @Transactional
    public Optional<ReferralRefusal> moveOn(Referral stale, ReferralStatus to) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        if (referral.status() == ReferralStatus.BOOKED || to == ReferralStatus.BOOKED) {
            return Optional.of(ReferralRefusal.BOOKED);
        }
        if (to != ReferralStatus.CLOSED && deceased(referral)) {
            return Optional.of(ReferralRefusal.PATIENT_DECEASED);
        }
        if (triage.open(referral).isPresent()) {
            return Optional.of(ReferralRefusal.RED_FLAG);
        }
        if (referral.status() == ReferralStatus.TO_TRIAGE && to != ReferralStatus.CLOSED) {
            return Optional.of(ReferralRefusal.RED_FLAGS_TO_ASK);
        }
        referral.setStatus(to);
        announce(referral, "referral-" + to.code().replace('_', '-'));
        return Optional.empty();
    }

    /** Brings a referral to its end, as far as it may be moved on, and says why. Empty if it is done. */
    @Transactional
    public Optional<ReferralRefusal> close(Referral stale, String because) {
        Optional<ReferralRefusal> refusal = moveOn(stale, ReferralStatus.CLOSED);
        if (refusal.isEmpty()) {
            referrals
                    .findByClinicIdAndId(stale.clinicId(), stale.id())
                    .orElseThrow()
                    .close(because);
        }
        return refusal;
    }

    /** Reopens a closed referral; red flags that were not all answered with no are judged first. Empty if it is done. */
    @Transactional
    public Optional<ReferralRefusal> reopen(Referral stale, Taker taker) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        if (referral.status() != ReferralStatus.CLOSED) {
            return Optional.of(ReferralRefusal.NOT_CLOSED);
        }
        if (deceased(referral)) {
            return Optional.of(ReferralRefusal.PATIENT_DECEASED);
        }
        referral.undoClosing();
        announce(referral, "referral-reopened");
        triage.judge(referral, taker.clinicianId(), taker.who());
        return Optional.empty();
    }

    private boolean deceased(Referral referral) {
        return patients.find(referral.clinicId(), referral.patientId())
                .filter(Patient::deceased)
                .isPresent();
    }

    /** What is said of cautions outlives the referral. */
    private void recordCautions(Referral referral, Taker taker) {
        CautionAnswers said = referral.details().cautions();
        Basis basis = said.asked() ? Basis.ASKED : Basis.IMPORTED;
        LocalDate today = clock.today(referral.clinicId());
        said.yes()
                .forEach(asked ->
                        cautions.record(referral.clinicId(), referral.patientId(), asked, basis, today, taker.who()));
    }

    private void announce(Referral referral, String action) {
        announce(referral, action, null);
    }

    private void announce(Referral referral, String action, @Nullable String detail) {
        events.publishEvent(new Audited.Entry(
                        referral.clinicId(), action, "referral", referral.id().toString(), detail)
                .about(referral.patientId()));
    }
}
