package org.earslot.booking;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.caution.Suitability;
import org.earslot.caution.Verdict;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ear;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How the method of an appointment suits, against how it suited before: any worsening counts, not only the worst. */
@Service
public class SuitabilityCheck {

    private final Appointments appointments;
    private final Referrals referrals;
    private final MethodSuitability suitability;

    SuitabilityCheck(Appointments appointments, Referrals referrals, MethodSuitability suitability) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.suitability = suitability;
    }

    /** Records on the appointment how its method suits as it is booked. */
    public void recordOn(Appointment appointment) {
        referral(appointment)
                .flatMap(referral ->
                        judged(appointment, referral, appointment.place().date()))
                .ifPresent(suits -> appointment.suits(verdicts(suits)));
    }

    /** What has become worse since it was booked: it was moved, or what is known of the patient or the table changed. */
    @Transactional(readOnly = true)
    public Optional<WorsenedCautions> sinceBooked(ClinicId clinicId, UUID appointmentId) {
        return appointments
                .findByClinicIdAndId(clinicId, appointmentId)
                .flatMap(one -> worse(one, one.suitedAsBooked(), one.place().date()));
    }

    /** What would be worse on that date than on its own. */
    @Transactional(readOnly = true)
    public Optional<WorsenedCautions> ifMoved(Appointment appointment, LocalDate date) {
        return referral(appointment)
                .flatMap(referral ->
                        judged(appointment, referral, appointment.place().date()))
                .flatMap(now -> worse(appointment, verdicts(now), date));
    }

    private Optional<WorsenedCautions> worse(Appointment appointment, Map<Ear, Verdict> before, LocalDate date) {
        Optional<Referral> referral = referral(appointment);
        Optional<Suitability> judged = referral.flatMap(one -> judged(appointment, one, date));
        if (judged.isEmpty() || before.isEmpty()) {
            return Optional.empty();
        }
        Suitability now = judged.get();
        List<Ear> worsened = referral.get().details().request().ears().each().stream()
                .filter(ear -> now.verdict(ear).compareTo(before.get(ear)) > 0)
                .toList();
        return worsened.stream()
                .max(Comparator.comparing(now::verdict))
                .map(worst -> new WorsenedCautions(
                        before.get(worst),
                        now.verdict(worst),
                        now.reasons().stream()
                                .filter(reason -> reason.verdict() == now.verdict(worst))
                                .filter(reason -> reason.ear().isEmpty()
                                        || worsened.contains(reason.ear().get()))
                                .map(reason -> reason.rule().caution())
                                .distinct()
                                .toList(),
                        now.verdict(worst) == Verdict.PRECAUTION ? now.remarks() : List.of()));
    }

    private Optional<Referral> referral(Appointment appointment) {
        return appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id));
    }

    private Optional<Suitability> judged(Appointment appointment, Referral referral, LocalDate date) {
        return Optional.ofNullable(appointment.planned().method())
                .map(method -> suitability.judge(referral, method, date));
    }

    private static Map<Ear, Verdict> verdicts(Suitability suits) {
        Map<Ear, Verdict> verdicts = new EnumMap<>(Ear.class);
        for (Ear ear : Ear.values()) {
            verdicts.put(ear, suits.verdict(ear));
        }
        return verdicts;
    }
}
