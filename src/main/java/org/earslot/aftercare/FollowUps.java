package org.earslot.aftercare;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.aftercare.Attempts.Count;
import org.earslot.booking.Appointment;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.SoftenerAdvice;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.UnknownCode;
import org.earslot.estimate.Estimate;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.SoftenerRule;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What can follow if an ear is not clear. The practitioner decides: enough is out, come again, or refer on. A follow-up is
 * judged with the cautions known before and those found, and sized with what was found.
 */
@Service
public class FollowUps {

    /** Softener before the next try: up to 5 days before irrigation (NICE NG98), 5 to 7 of oil before suction (leaflets). */
    private static final int SOFTENER_DAYS = 5;

    private final Patients patients;
    private final Attempts attempts;
    private final StoredFollowUps stored;
    private final SoftenerRule softener;
    private final ClinicClock clock;
    private final FollowUpBasis basis;
    private final FollowUpWays ways;

    FollowUps(
            Patients patients,
            Attempts attempts,
            StoredFollowUps stored,
            SoftenerRule softener,
            ClinicClock clock,
            FollowUpBasis basis,
            FollowUpWays ways) {
        this.patients = patients;
        this.attempts = attempts;
        this.stored = stored;
        this.softener = softener;
        this.clock = clock;
        this.basis = basis;
        this.ways = ways;
    }

    /**
     * What can follow.
     *
     * @param ears those not clear
     * @param decided what the practitioner decided; null while undecided
     * @param spent whether irrigation has failed twice in one of them, so that a third is not offered
     * @param ways the methods that are not contraindicated and for which somebody here is trained, the most suitable first
     * @param attempts by ear and method
     * @param cautions those known before and those found at the visit
     * @param unknown codes of cautions on record that are not known here
     * @param softener whether softener may be used before the next try
     * @param made the referral that follows already; null while there is none
     * @param deceased whether the patient has died since, so that no follow-up is made
     */
    public record Next(
            Ears ears,
            @Nullable NextStep decided,
            boolean spent,
            List<Way> ways,
            Map<Ear, Map<Method, Count>> attempts,
            List<AskedCaution> cautions,
            List<UnknownCode> unknown,
            SoftenerAdvice softener,
            @Nullable UUID made,
            boolean deceased) {

        /** The usual days of softener before it; null where it may not be used or a clinician is to be asked. */
        public @Nullable Integer softenerDays() {
            return softener.use() == SoftenerAdvice.Use.ALLOWED ? SOFTENER_DAYS : null;
        }

        /** Whether no method is left here. */
        public boolean nothingLeft() {
            return ways.isEmpty();
        }

        /** Whether the practitioner wants the patient to come again and no referral for it is made yet. */
        public boolean toBeMade() {
            return decided == NextStep.COME_AGAIN && made == null && !deceased;
        }

        /** Whether a follow-up by that method is on offer. */
        public boolean offers(Method method) {
            return decided == NextStep.COME_AGAIN && !deceased && ways.stream().anyMatch(way -> way.method() == method);
        }
    }

    /** A follow-up by one method: how it suits, and its length as of now. */
    public record Way(Method method, Suitability suits, Estimate estimate, List<String> heldBy) {}

    /** What can follow the visit of an appointment; empty if nothing has to. */
    @Transactional(readOnly = true)
    public Optional<Next> next(Appointment appointment) {
        ClinicId clinicId = appointment.clinicId();
        return basis.visit(appointment)
                .flatMap(visit -> FollowUpDetails.open(visit).map(ears -> {
                    Map<Ear, Map<Method, Count>> tried = attempts.of(clinicId, visit.patientRef(), visit.date());
                    boolean spent = ears.each().stream().anyMatch(ear -> Attempts.irrigationSpent(tried.get(ear)));
                    FollowUpDetails details = basis.details(appointment, visit);
                    List<Way> ways = this.ways.of(appointment, details, ears, spent);
                    return new Next(
                            ears,
                            visit.nextStep().orElse(null),
                            spent,
                            ways,
                            tried,
                            details.cautions(),
                            details.unknown(),
                            softener(appointment, details.by(visit.methodPlanned(), ears, null)),
                            stored.findByClinicIdAndVisitId(clinicId, visit.id())
                                    .map(FollowUp::referralId)
                                    .orElse(null),
                            deceased(appointment));
                }));
    }

    private boolean deceased(Appointment appointment) {
        return appointment
                .patientId()
                .flatMap(id -> patients.findByClinicIdAndId(appointment.clinicId(), id))
                .filter(Patient::deceased)
                .isPresent();
    }

    private SoftenerAdvice softener(Appointment appointment, ReferralDetails said) {
        ClinicId clinicId = appointment.clinicId();
        return appointment
                .patientId()
                .map(patient ->
                        softener.advice(clinicId, patient, said, said.request().ears(), clock.today(clinicId)))
                .orElseGet(() -> SoftenerAdvice.ofNobodyKnown(said.request().ears()));
    }
}
