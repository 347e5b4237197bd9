package org.earslot.offers;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Planning;
import org.earslot.booking.RowLocks;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Sessions;
import org.earslot.ear.Method;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Finds out why a search for a referral's slot found none. */
@Component
public class WhyNoOffer {

    private final Referrals referrals;
    private final Practitioners practitioners;
    private final Sessions sessions;
    private final RowLocks locks;
    private final Planning planning;
    private final Patients patients;

    WhyNoOffer(
            Referrals referrals,
            Practitioners practitioners,
            Sessions sessions,
            RowLocks locks,
            Planning planning,
            Patients patients) {
        this.referrals = referrals;
        this.practitioners = practitioners;
        this.sessions = sessions;
        this.locks = locks;
        this.planning = planning;
        this.patients = patients;
    }

    /**
     * The first reason that holds why nothing is offered within the accepted share of late ends.
     *
     * @param found what the search for {@code wish} answered
     */
    @Transactional(readOnly = true)
    public NoOffer of(ClinicId clinicId, SlotWish wish, Offers found) {
        if (found.sessions() > 0) {
            return found.best().isEmpty() ? NoOffer.FULL : NoOffer.LATE_ENDS;
        }
        Referral referral =
                referrals.findByClinicIdAndId(clinicId, wish.referralId()).orElseThrow();
        if (found.from().isAfter(found.to())) {
            LocalDate notBefore = referral.details().request().notBefore();
            boolean softener = notBefore != null && notBefore.isAfter(found.to());
            return softener ? NoOffer.SOFTENER : NoOffer.NO_DAYS;
        }
        Map<UUID, Practitioner> trained =
                trained(clinicId, wish, referral.details().request().methodPlanned());
        if (trained.isEmpty()) {
            return NoOffer.NOT_TRAINED;
        }
        Set<LocalDate> closed = locks.closed(clinicId, found.from(), found.to());
        List<ClinicSession> held = sessions.between(clinicId, found.from(), found.to()).stream()
                .filter(session -> trained.containsKey(session.practitionerId()))
                .filter(session -> !closed.contains(session.date()))
                .toList();
        Optional<PatientDetails> person =
                patients.findByClinicIdAndId(clinicId, referral.patientId()).map(Patient::details);
        List<LocalDate> days = held.stream()
                .filter(session -> trained.get(session.practitionerId())
                        .ages()
                        .includes(person.flatMap(one -> one.ageOn(session.date()))))
                .map(ClinicSession::date)
                .distinct()
                .toList();
        if (days.isEmpty()) {
            return held.isEmpty() ? NoOffer.NO_SESSION : NoOffer.AGE_NOT_SEEN;
        }
        boolean forbidden =
                days.stream().noneMatch(date -> planning.unfit(referral, date).isEmpty());
        return forbidden ? NoOffer.CONTRAINDICATED : NoOffer.NO_SESSION;
    }

    private Map<UUID, Practitioner> trained(ClinicId clinicId, SlotWish wish, Method method) {
        return practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .filter(one -> one.methods().contains(method))
                .filter(one -> wish.practitionerId() == null || one.id().equals(wish.practitionerId()))
                .collect(Collectors.toMap(Practitioner::id, Function.identity()));
    }
}
