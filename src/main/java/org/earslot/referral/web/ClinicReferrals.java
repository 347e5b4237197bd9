package org.earslot.referral.web;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Collection;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.FormVersion;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDraft;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/** The referrals and patients of the clinic that asks; notes in the audit trail who is shown. */
@Component
class ClinicReferrals {

    private final Referrals referrals;
    private final Patients patients;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    ClinicReferrals(
            Referrals referrals,
            Patients patients,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.referrals = referrals;
        this.patients = patients;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    ClinicId clinicId() {
        return current.id();
    }

    /** The sign-in name of whoever asks. */
    String who() {
        return current.who();
    }

    /**
     * Whoever asks, as the one who takes a referral.
     *
     * @param clinicianId the clinician named for a red flag
     */
    Taker taker(@Nullable UUID clinicianId) {
        return new Taker(current.who(), clinicianId);
    }

    Referral referral(UUID id) {
        return referrals.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("referral"));
    }

    Patient patient(UUID id) {
        return patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
    }

    /** The referral of a patient that came in last. */
    Optional<Referral> latestOf(UUID patientId) {
        return referrals.ofPatient(current.id(), patientId).stream().findFirst();
    }

    /** The patient known by that number. */
    Optional<Patient> known(@Nullable String number) {
        return Optional.ofNullable(number).flatMap(one -> patients.known(current.id(), one));
    }

    /** The referral that a form was saved as. */
    Optional<Referral> savedAs(UUID formKey) {
        return referrals.findByClinicIdAndFormKey(current.id(), formKey);
    }

    /** The version of a referral and its patient as they are now. */
    FormVersion version(UUID id) {
        Referral referral = referral(id);
        return Intake.version(referral, patient(referral.patientId()));
    }

    /** The clinic's date. */
    LocalDate today() {
        return clock.today(current.id());
    }

    /** The clinic's time zone. */
    ZoneId zone() {
        return clock.zone(current.id());
    }

    /** These patients are shown. */
    void viewed(String where, Collection<UUID> shown) {
        if (!shown.isEmpty()) {
            events.publishEvent(Audited.viewed(current.id(), where, shown));
        }
    }

    /** A draft is shown: of a patient already known, if it gives a local number. */
    void viewed(ReferralDraft draft) {
        UUID known = known(draft.get("localNumber")).map(Patient::id).orElse(null);
        events.publishEvent(new Audited.Entry(
                        current.id(),
                        "draft-viewed",
                        "referral-draft",
                        draft.id().toString(),
                        null)
                .about(known));
    }
}
