package org.earslot.day;

import static org.earslot.booking.BookingRefusalCode.PATIENT_DECEASED;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingResult;
import org.earslot.caution.PatientCaution;
import org.earslot.clinic.ClinicId;
import org.earslot.day.LateCard.Turn;
import org.earslot.ear.Caution;
import org.earslot.ear.UnknownCode;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/**
 * Fits in whoever has no slot. Red flags and cautions are asked first; the answers belong to the referral that the fit-in
 * serves, which is made if there is none, so that sheet and running list warn as for everybody else.
 */
@Service
public class FitIns {

    private final Booking booking;
    private final Turns turns;
    private final ArrivalQuestions arrival;
    private final Patients patients;
    private final OpenRedFlags openRedFlags;
    private final FitInReferrals served;

    FitIns(
            Booking booking,
            Turns turns,
            ArrivalQuestions arrival,
            Patients patients,
            OpenRedFlags openRedFlags,
            FitInReferrals served) {
        this.booking = booking;
        this.turns = turns;
        this.arrival = arrival;
        this.patients = patients;
        this.openRedFlags = openRedFlags;
        this.served = served;
    }

    /** What is known of the patient's cautions today, with the day each was last said. */
    public List<PatientCaution> known(ClinicId clinicId, UUID patientId) {
        return served.known(clinicId, patientId);
    }

    /** The codes of cautions on record that are not known here: to be clarified with the patient. */
    public List<UnknownCode> unknown(ClinicId clinicId, UUID patientId) {
        return served.unknown(clinicId, patientId);
    }

    /**
     * Books it if every red flag is answered with no; else a clinician looks first, and nothing is booked.
     *
     * @param redFlags what was answered now
     * @param yes the cautions answered with yes now, besides those known
     * @param turn whose turn it is, for one who is here; null to book without checking in
     */
    public BookingResult fitIn(
            ClinicId clinicId,
            OfFitIn wish,
            RedFlagAnswers redFlags,
            Collection<Caution> yes,
            @Nullable Turn turn,
            String who) {
        Optional<Patient> patient =
                Optional.ofNullable(wish.patientId()).flatMap(id -> patients.findByClinicIdAndId(clinicId, id));
        if (patient.isEmpty() || (wish.referralId() == null && (wish.method() == null || wish.ears() == null))) {
            return BookingResult.refused(BookingRefusal.unknown(patient.isEmpty() ? "patient" : "method"));
        }
        if (patient.get().deceased()) {
            return BookingResult.refused(PATIENT_DECEASED);
        }
        Referral referral = served.of(patient.get(), wish, who);
        served.addCautions(referral, yes, who);
        Optional<RedFlagCase> raised = served.answerRedFlags(referral, redFlags, who);
        if (raised.isPresent()) {
            return BookingResult.refused(BookingRefusal.redFlagOpen(
                    openRedFlags.clinician(raised.get()).orElse(null)));
        }
        OfFitIn asked =
                new OfFitIn(referral.id(), patient.get().id(), wish.method(), wish.ears(), wish.reason(), wish.place());
        return turn == null
                ? booking.book(clinicId, asked, who)
                : arrival.askedAlready(clinicId, turns.fitIn(clinicId, asked, turn, who), who);
    }

    /**
     * Books nothing: the referral named, or one made with the reason, to find another day for, with what was answered now;
     * empty where there is no such patient.
     */
    public Optional<UUID> rebook(
            ClinicId clinicId, OfFitIn wish, RedFlagAnswers redFlags, Collection<Caution> yes, String who) {
        return Optional.ofNullable(wish.patientId())
                .flatMap(id -> patients.findByClinicIdAndId(clinicId, id))
                .filter(patient -> !patient.deceased())
                .filter(patient -> wish.referralId() != null || (wish.method() != null && wish.ears() != null))
                .map(patient -> {
                    Referral referral = served.of(patient, wish, who);
                    if (!yes.isEmpty()) {
                        served.addCautions(referral, yes, who);
                    }
                    if (!redFlags.answers().isEmpty() || redFlags.words() != null) {
                        served.answerRedFlags(referral, redFlags, who);
                    }
                    return referral.id();
                });
    }
}
