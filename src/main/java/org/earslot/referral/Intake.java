package org.earslot.referral;

import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.referral.PatientCaution.Basis;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Takes referrals in, mends them and moves them on. */
@Service
public class Intake {

    /**
     * Who takes a referral.
     *
     * @param who the sign-in name
     * @param clinicianId the clinician named for a red flag; null for the one the lead has settled
     */
    public record Taker(String who, @Nullable UUID clinicianId) {}

    /** Why a referral keeps its status. */
    public enum StaysPut {
        BOOKED,
        RED_FLAG,
        RED_FLAGS_TO_ASK
    }

    private final Patients patients;
    private final Referrals referrals;
    private final RedFlagTriage triage;
    private final PatientCautions cautions;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Intake(
            Patients patients,
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
     * Takes in a referral. A patient with that local number is taken to be the same person, and gets the details; no
     * number makes a new patient with the next one. A red flag goes to {@code taker}'s named clinician.
     */
    @Transactional
    public Referral takeIn(
            UUID clinicId, @Nullable String localNumber, PatientDetails person, ReferralDetails said, Taker taker) {
        Instant now = clock.now();
        Patient patient = Optional.ofNullable(localNumber)
                .flatMap(number -> patients.known(clinicId, number))
                .map(known -> amended(known, person))
                .orElseGet(() -> patients.save(new Patient(
                        UUID.randomUUID(),
                        clinicId,
                        localNumber == null ? nextNumber(clinicId) : localNumber,
                        person,
                        now)));
        Referral referral = referrals.save(new Referral(UUID.randomUUID(), clinicId, patient.id(), said, now));
        recordCautions(referral, taker);
        announce(referral, "referral-taken-in");
        triage.judge(referral, taker.clinicianId(), taker.who());
        return referral;
    }

    /** Replaces what a referral says and what is known of its patient; red flags answered otherwise are judged again. */
    @Transactional
    public void amend(Referral stale, PatientDetails person, ReferralDetails said, Taker taker) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        patients.findByClinicIdAndId(referral.clinicId(), referral.patientId())
                .ifPresent(patient -> patient.amend(person));
        ReferralDetails before = referral.details();
        referral.amend(said);
        recordCautions(referral, taker);
        announce(referral, "referral-amended");
        if (!said.redFlags().equals(before.redFlags()) || !Objects.equals(said.redFlag(), before.redFlag())) {
            triage.judge(referral, taker.clinicianId(), taker.who());
        }
    }

    /**
     * Red flags were asked again, as at arrival. What was answered before and not asked now remains; a yes, a "not known"
     * or own words go to a clinician whatever was decided before.
     *
     * @param answers what was answered now
     * @param words what was said now in own words; null for nothing
     * @return the case that the answers open or add to; empty if every answer is no
     */
    @Transactional
    public Optional<RedFlagCase> answerRedFlags(
            Referral stale, Map<RedFlag, Answer> answers, @Nullable String words, Taker taker) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        ReferralDetails before = referral.details();
        Map<RedFlag, Answer> merged = new EnumMap<>(RedFlag.class);
        merged.putAll(before.redFlags());
        merged.putAll(answers);
        referral.amend(before.withRedFlags(merged, words == null ? before.redFlag() : words));
        announce(referral, "red-flags-answered");
        ReferralDetails now = before.withRedFlags(answers, words);
        if (now.stopsRoutineBooking()) {
            return Optional.of(triage.raise(referral, now, taker.clinicianId(), taker.who()));
        }
        triage.holdOrLetGo(referral);
        return Optional.empty();
    }

    /** Plans another method; false where it is booked already, so that the appointment's length would no longer fit. */
    @Transactional
    public boolean plan(Referral stale, Method method) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        if (referral.status() == ReferralStatus.BOOKED) {
            return false;
        }
        referral.plan(method);
        announce(referral, "referral-method-planned");
        return true;
    }

    /**
     * Moves a referral to the waiting list or to its end; a booked one is moved by its appointment alone, one with a red
     * flag by a clinician, and one with questions still to be asked only to its end. Empty if it is done.
     */
    @Transactional
    public Optional<StaysPut> moveOn(Referral stale, ReferralStatus to) {
        Referral referral =
                referrals.findByClinicIdAndId(stale.clinicId(), stale.id()).orElseThrow();
        if (referral.status() == ReferralStatus.BOOKED || to == ReferralStatus.BOOKED) {
            return Optional.of(StaysPut.BOOKED);
        }
        if (triage.open(referral).isPresent()) {
            return Optional.of(StaysPut.RED_FLAG);
        }
        if (referral.status() == ReferralStatus.TO_TRIAGE && to != ReferralStatus.CLOSED) {
            return Optional.of(StaysPut.RED_FLAGS_TO_ASK);
        }
        referral.standAt(to);
        announce(referral, "referral-" + to.code().replace('_', '-'));
        return Optional.empty();
    }

    /** What is said of cautions outlives the referral. */
    private void recordCautions(Referral referral, Taker taker) {
        ReferralDetails said = referral.details();
        Basis basis = said.cautionsAsked() ? Basis.ASKED : Basis.IMPORTED;
        LocalDate today = clock.today(referral.clinicId());
        said.cautions()
                .forEach(asked ->
                        cautions.record(referral.clinicId(), referral.patientId(), asked, basis, today, taker.who()));
    }

    private Patient amended(Patient known, PatientDetails given) {
        known.amend(known.details().completedBy(given));
        return known;
    }

    private String nextNumber(UUID clinicId) {
        long next = patients.countByClinicId(clinicId) + 1;
        while (patients.findByClinicIdAndLocalNumber(clinicId, number(next)).isPresent()) {
            next++;
        }
        return number(next);
    }

    private static String number(long count) {
        return String.format("N%05d", count);
    }

    private void announce(Referral referral, String action) {
        events.publishEvent(new Audited.Entry(
                        referral.clinicId(), action, "referral", referral.id().toString(), null)
                .about(referral.patientId()));
    }
}
