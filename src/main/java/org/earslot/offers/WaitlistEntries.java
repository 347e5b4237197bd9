package org.earslot.offers;

import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.Planning;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Component;

/** Who could take a place that came free: those who wait, and those booked later who said that they can come soon. */
@Component
public class WaitlistEntries {

    /** At most this many of those who wait longest, and of those booked next, are considered. */
    private static final Limit LOOKED_AT = Limit.of(200);
    /** Those booked so far ahead are looked at. */
    private static final int WEEKS = 12;

    private final Appointments appointments;
    private final Referrals referrals;
    private final Patients patients;
    private final Practitioners practitioners;
    private final Planning planning;

    WaitlistEntries(
            Appointments appointments,
            Referrals referrals,
            Patients patients,
            Practitioners practitioners,
            Planning planning) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.patients = patients;
        this.practitioners = practitioners;
        this.planning = planning;
    }

    /** Those for whom method, age, cautions on the day, softener days and notice allow the place, in no order. */
    public List<WaitlistEntry> of(Appointment gone, boolean shortNotice) {
        BookedPlace place = gone.place();
        Optional<Practitioner> by = practitioners.findByClinicIdAndId(gone.clinicId(), place.practitionerId());
        Set<Method> held = by.map(Practitioner::methods).orElse(Set.of());
        AgeRange seen = by.map(Practitioner::ages).orElse(AgeRange.ANY);
        return Stream.concat(waiting(gone, shortNotice), bookedLater(gone))
                .filter(one -> held.contains(one.method()))
                .filter(one -> seen.includes(one.patient().details().ageOn(place.date())))
                .toList();
    }

    private Stream<WaitlistEntry> waiting(Appointment gone, boolean shortNotice) {
        List<Referral> waiting = referrals
                .standingAt(
                        gone.clinicId(),
                        List.of(ReferralStatus.READY_TO_BOOK.code(), ReferralStatus.WAITING.code()),
                        LOOKED_AT)
                .stream()
                .filter(one -> !shortNotice || one.details().request().shortNotice() != Answer.NO)
                .filter(one -> planning.bookable(one, gone.place().date()).isEmpty())
                .toList();
        Map<UUID, Patient> known = patients(gone.clinicId(), waiting);
        return waiting.stream().map(one -> seeker(known, one, null)).filter(Objects::nonNull);
    }

    private Stream<WaitlistEntry> bookedLater(Appointment gone) {
        LocalDate date = gone.place().date();
        List<Appointment> later = appointments.bookedLaterAtShortNotice(
                gone.clinicId(), gone.place().end(), date.plusWeeks(WEEKS), LOOKED_AT);
        Map<UUID, Referral> of = new HashMap<>();
        referrals
                .findByClinicIdAndIdIn(
                        gone.clinicId(),
                        later.stream().flatMap(one -> one.referralId().stream()).toList())
                .forEach(one -> of.put(one.id(), one));
        Map<UUID, Patient> known = patients(gone.clinicId(), of.values());
        return later.stream()
                .filter(one -> planning.closedTo(
                                gone.clinicId(), one.patientId().orElse(null))
                        .isEmpty())
                .filter(one -> planning.stillSuits(one, date).isEmpty())
                .flatMap(one -> one.referralId().map(of::get).map(referral -> seeker(known, referral, one)).stream());
    }

    private static @Nullable WaitlistEntry seeker(
            Map<UUID, Patient> known, Referral referral, @Nullable Appointment booked) {
        Patient patient = known.get(referral.patientId());
        return patient == null ? null : new WaitlistEntry(patient, referral, booked);
    }

    private Map<UUID, Patient> patients(ClinicId clinicId, Collection<Referral> of) {
        return patients
                .findByClinicIdAndIdIn(
                        clinicId,
                        of.stream().map(Referral::patientId).distinct().toList())
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
    }
}
