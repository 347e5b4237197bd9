package org.earslot.exchange;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.PatientCaution.Basis;
import org.earslot.caution.PatientCautions;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ear;
import org.earslot.patient.Patient;
import org.earslot.referral.Origin;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralSource;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.referral.ReportedEars;
import org.earslot.referral.VisitRequest;
import org.springframework.stereotype.Component;

/**
 * The referrals of an imported diary. No line says that red flags were asked: what is booked stays booked and is asked at
 * check-in, what waits is asked before it is booked.
 */
@Component
class ImportedReferrals {

    private final Referrals referrals;
    private final PatientCautions patientCautions;
    private final RedFlagTriage triage;
    private final ClinicClock clock;

    ImportedReferrals(Referrals referrals, PatientCautions patientCautions, RedFlagTriage triage, ClinicClock clock) {
        this.referrals = referrals;
        this.patientCautions = patientCautions;
        this.triage = triage;
        this.clock = clock;
    }

    /** The referral of an appointment. */
    Optional<Referral> of(Appointment appointment) {
        return appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id));
    }

    /** Whether a line says what the referral says, of all that a line can say. */
    static boolean isSame(Referral known, BookingLine line) {
        ReferralDetails details = known.details();
        return reportOf(details).equals(reportOf(said(line, details.source().receivedOn())));
    }

    /** The referral that a line stands for. */
    Referral add(Patient patient, BookingLine line, String who) {
        ClinicId clinicId = patient.clinicId();
        Referral referral =
                new Referral(UUID.randomUUID(), clinicId, patient.id(), said(line, clock.today(clinicId)), clock.now());
        return stored(referral, line, who);
    }

    /** Replaces what a line can say of a referral. */
    Referral replace(Referral referral, BookingLine line, String who) {
        ReferralDetails before = referral.details();
        referral.amend(replacing(before, said(line, before.source().receivedOn())));
        return stored(referral, line, who);
    }

    private Referral stored(Referral referral, BookingLine line, String who) {
        referral.setStatus(statusFor(line.status()));
        triage.holdOrLetGo(referral);
        referrals.save(referral);
        recordCautions(referral, who);
        return referral;
    }

    private void recordCautions(Referral referral, String who) {
        LocalDate today = clock.today(referral.clinicId());
        referral.details()
                .cautions()
                .yes()
                .forEach(named -> patientCautions.record(
                        referral.clinicId(), referral.patientId(), named, Basis.IMPORTED, today, who));
    }

    private static ReferralStatus statusFor(AppointmentStatus status) {
        if (status == AppointmentStatus.WAITLIST) {
            return ReferralStatus.WAITING;
        }
        return status.toCome() || status.present() ? ReferralStatus.BOOKED : ReferralStatus.CLOSED;
    }

    /** What a line can say of a referral. */
    private static List<Object> reportOf(ReferralDetails details) {
        return List.of(
                details.request().methodPlanned(),
                details.request().ears(),
                details.reported(),
                details.cautions().confirmed());
    }

    /** The referral with what a line can say replaced, and all else as it was. */
    private static ReferralDetails replacing(ReferralDetails before, ReferralDetails said) {
        CautionAnswers cautions = before.cautions();
        List<AskedCaution> yes = said.cautions().yes().stream()
                .flatMap(named -> knownOr(before, named))
                .toList();
        return new ReferralDetails(
                before.source(),
                before.request().of(said.request().ears(), said.request().methodPlanned()),
                said.reported(),
                new CautionAnswers(cautions.asked(), yes, cautions.notKnown(), cautions.unknown()),
                before.redFlags());
    }

    /** A file knows no ear and no date: what is known of the same caution stays. */
    private static Stream<AskedCaution> knownOr(ReferralDetails before, AskedCaution named) {
        List<AskedCaution> known = before.cautions().yes().stream()
                .filter(asked -> asked.caution() == named.caution())
                .toList();
        return known.isEmpty() ? Stream.of(named) : known.stream();
    }

    /** A file may name cautions, but nobody has read the list out: they do not count as asked. */
    private static ReferralDetails said(BookingLine line, LocalDate today) {
        List<AskedCaution> named = line.cautions().stream()
                .map(caution -> new AskedCaution(caution, null, null))
                .toList();
        return new ReferralDetails(
                new ReferralSource(null, today, Origin.REFERRAL),
                VisitRequest.routine(line.ears(), line.method()),
                new ReportedEars(line.reported(Ear.RIGHT), line.reported(Ear.LEFT)),
                new CautionAnswers(false, named),
                RedFlagAnswers.NOT_ASKED);
    }
}
