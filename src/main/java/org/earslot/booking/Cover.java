package org.earslot.booking;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Sessions;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What a change of practitioner means for the visits booked in a session. It moves nothing: each is handed over by a press. */
@Service
public class Cover {

    private final Appointments appointments;
    private final Practitioners practitioners;
    private final Sessions sessions;
    private final Referrals referrals;
    private final Patients patients;
    private final Estimates estimates;

    Cover(
            Appointments appointments,
            Practitioners practitioners,
            Sessions sessions,
            Referrals referrals,
            Patients patients,
            Estimates estimates) {
        this.appointments = appointments;
        this.practitioners = practitioners;
        this.sessions = sessions;
        this.referrals = referrals;
        this.patients = patients;
        this.estimates = estimates;
    }

    /**
     * One visit of the covered session.
     *
     * @param held whether the cover is trained in its method
     * @param ageSeen whether the cover sees patients of this age
     * @param needsMinutes the slot it needs with the cover; null if that is not known or the cover cannot take it
     */
    public record Covered(
            Appointment appointment,
            @Nullable Patient patient,
            boolean held,
            boolean ageSeen,
            @Nullable Integer needsMinutes) {

        /** Whether the cover may take it over. */
        public boolean possible() {
            return held && ageSeen;
        }

        /** Whether its slot is too short for the cover. */
        public boolean tooShort() {
            return needsMinutes != null && needsMinutes > appointment.place().slotMinutes();
        }
    }

    /** The visits still booked with {@code absent} on that day in a room where {@code cover} has a session. */
    @Transactional(readOnly = true)
    public List<Covered> visits(ClinicId clinicId, LocalDate date, UUID absent, UUID cover) {
        Optional<Practitioner> taker = practitioners.findByClinicIdAndId(clinicId, cover);
        List<UUID> rooms = sessions.on(clinicId, date).stream()
                .filter(session -> session.practitionerId().equals(cover))
                .map(ClinicSession::roomId)
                .toList();
        List<Appointment> booked = appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinicId, date).stream()
                .filter(one -> one.status().toCome())
                .filter(one -> one.place().practitionerId().equals(absent)
                        && rooms.contains(one.place().roomId()))
                .toList();
        List<Optional<Referral>> asked = booked.stream()
                .map(one -> one.referralId().flatMap(id -> referrals.findByClinicIdAndId(clinicId, id)))
                .toList();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                asked.stream()
                        .flatMap(Optional::stream)
                        .map(referral -> VisitPlans.of(
                                referral,
                                patients.findByClinicIdAndId(clinicId, referral.patientId())
                                        .orElse(null),
                                cover))
                        .toList());
        int[] known = IntStream.range(0, booked.size())
                .map(i -> (int)
                        asked.subList(0, i).stream().filter(Optional::isPresent).count())
                .toArray();
        return IntStream.range(0, booked.size())
                .mapToObj(i -> {
                    Appointment one = booked.get(i);
                    boolean held = one.planned().method() == null
                            || taker.filter(who ->
                                            who.methods().contains(one.planned().method()))
                                    .isPresent();
                    Optional<Patient> patient =
                            one.patientId().flatMap(id -> patients.findByClinicIdAndId(clinicId, id));
                    boolean ageSeen = taker.map(Practitioner::ages)
                            .orElse(AgeRange.ANY)
                            .includes(patient.flatMap(person -> person.details().ageOn(date)));
                    Integer needs = held && ageSeen && asked.get(i).isPresent()
                            ? each.get(known[i]).slotMinutes()
                            : null;
                    return new Covered(one, patient.orElse(null), held, ageSeen, needs);
                })
                .toList();
    }
}
