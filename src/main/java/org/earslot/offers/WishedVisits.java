package org.earslot.offers;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.VisitPlans;
import org.earslot.clinic.ClinicId;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Finds the visit that a place is wished for, and estimates it. */
@Component
class WishedVisits {

    private final Appointments appointments;
    private final Referrals referrals;
    private final Patients patients;
    private final Estimates estimates;

    WishedVisits(Appointments appointments, Referrals referrals, Patients patients, Estimates estimates) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.patients = patients;
        this.estimates = estimates;
    }

    /** The visit that {@code wish} names, as far as the clinic has it. */
    WishedVisit find(ClinicId clinicId, SlotWish wish) {
        Optional<Appointment> moved =
                Optional.ofNullable(wish.appointmentId()).flatMap(id -> appointments.findByClinicIdAndId(clinicId, id));
        UUID referralId = moved.flatMap(Appointment::referralId).orElse(wish.referralId());
        Optional<Referral> referral =
                Optional.ofNullable(referralId).flatMap(id -> referrals.findByClinicIdAndId(clinicId, id));
        Optional<PatientDetails> person = moved.flatMap(Appointment::patientId)
                .or(() -> referral.map(Referral::patientId))
                .flatMap(id -> patients.findByClinicIdAndId(clinicId, id))
                .map(Patient::details);
        return new WishedVisit(moved.orElse(null), referral.orElse(null), person);
    }

    /** How long it takes each of these practitioners; empty for a visit without a referral. */
    Map<UUID, Estimate> estimates(WishedVisit visit, List<UUID> by) {
        Referral referral = visit.referral();
        return referral == null ? Map.of() : estimates(referral, by);
    }

    /** How long it takes whoever does it; null for a visit without a referral. */
    @Nullable
    Estimate anyone(WishedVisit visit) {
        Referral referral = visit.referral();
        return referral == null
                ? null
                : estimates.estimate(referral.clinicId(), VisitPlans.of(referral, patient(referral), null));
    }

    private @Nullable Patient patient(Referral referral) {
        return patients.findByClinicIdAndId(referral.clinicId(), referral.patientId())
                .orElse(null);
    }

    Map<UUID, Estimate> estimates(Referral referral, List<UUID> by) {
        Patient patient = patient(referral);
        List<Estimate> each = estimates.estimateAll(
                referral.clinicId(),
                by.stream().map(id -> VisitPlans.of(referral, patient, id)).toList());
        List<UUID> practitionerIds = new ArrayList<>(by);
        return Stream.iterate(0, i -> i + 1)
                .limit(by.size())
                .collect(Collectors.toMap(practitionerIds::get, each::get));
    }
}
