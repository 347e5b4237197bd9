package org.earslot.booking;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.PatientCaution.Basis;
import org.earslot.caution.PatientCautions;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What a visit adds to the cautions of its patient: what otoscopy found, and, once a person accepts it, a complication with
 * the method used.
 */
@Service
public class FoundCautions {

    /** Cautions of one ear; the others are of the whole patient. */
    private static final Set<Caution> OF_AN_EAR = EnumSet.of(
            Caution.PERFORATION,
            Caution.GROMMET,
            Caution.HEALED_PERFORATION,
            Caution.EAR_SURGERY,
            Caution.MASTOID_CAVITY,
            Caution.MIDDLE_EAR_INFECTION,
            Caution.MUCUS_DISCHARGE,
            Caution.OTITIS_EXTERNA,
            Caution.RECURRENT_OTITIS_EXTERNA,
            Caution.RETRACTION_POCKET,
            Caution.CHOLESTEATOMA,
            Caution.FOREIGN_BODY,
            Caution.ONLY_HEARING_EAR,
            Caution.CANAL_NARROWING,
            Caution.EXOSTOSES,
            Caution.INJURY_LATELY,
            Caution.PAIN_OR_DISCHARGE_NOW,
            Caution.EAR_IMPLANT,
            Caution.STAPES_SURGERY,
            Caution.RECENT_EAR_SURGERY,
            Caution.KERATOSIS_OBTURANS,
            Caution.CANAL_SKIN_DISEASE);

    private final Appointments appointments;
    private final PatientCautions cautions;
    private final ClinicClock clock;

    FoundCautions(Appointments appointments, PatientCautions cautions, ClinicClock clock) {
        this.appointments = appointments;
        this.cautions = cautions;
        this.clock = clock;
    }

    /** A caution found in {@code ear}, as an answer of a referral. */
    static AskedCaution asked(Caution caution, Ear ear, LocalDate on) {
        return new AskedCaution(caution, OF_AN_EAR.contains(caution) ? ear : null, on);
    }

    /** Everything found at a visit that is a caution. */
    public static List<AskedCaution> of(Visit visit) {
        return Arrays.stream(Ear.values())
                .flatMap(ear -> visit.recorded(ear).cautionsFound().stream()
                        .sorted()
                        .map(caution -> asked(caution, ear, visit.date())))
                .distinct()
                .toList();
    }

    /** Records what a visit found with its patient. */
    public void record(Appointment appointment, Visit visit, String who) {
        appointment
                .patientId()
                .ifPresent(patient -> of(visit)
                        .forEach(found -> cautions.record(
                                appointment.clinicId(), patient, found, Basis.FOUND, visit.date(), who)));
    }

    /** The cautions known of the patient of an appointment today. */
    public List<AskedCaution> known(Appointment appointment) {
        LocalDate today = clock.today(appointment.clinicId());
        return appointment
                .patientId()
                .map(patient -> cautions.inForce(appointment.clinicId(), patient, today).stream()
                        .map(PatientCaution::asked)
                        .toList())
                .orElse(List.of());
    }

    /** A complication with each method used in an ear with an adverse event, unless it is known already. */
    @Transactional(readOnly = true)
    public List<AskedCaution> proposed(Appointment appointment, Visit visit) {
        List<AskedCaution> known = known(appointment);
        return Arrays.stream(Ear.values())
                .flatMap(ear -> complications(visit, ear))
                .filter(proposed -> known.stream().noneMatch(one -> says(one, proposed)))
                .toList();
    }

    private static Stream<AskedCaution> complications(Visit visit, Ear ear) {
        EarRecord recorded = visit.recorded(ear);
        List<Method> used = recorded.methods().isEmpty() ? List.of(visit.methodPlanned()) : recorded.methods();
        return recorded.harmed()
                ? used.stream()
                        .distinct()
                        .map(method -> new AskedCaution(Caution.COMPLICATION_BEFORE, ear, visit.date(), method, false))
                : Stream.empty();
    }

    private static boolean says(AskedCaution known, AskedCaution proposed) {
        return known.caution() == proposed.caution()
                && (known.ear() == null || known.ear() == proposed.ear())
                && (known.method() == null || known.method() == proposed.method());
    }

    /** Accepts a complication that is proposed; false if it is not, or not any more. */
    @Transactional
    public boolean accept(ClinicId clinicId, UUID appointmentId, Visit visit, Ear ear, Method method, String who) {
        return appointments
                .findByClinicIdAndId(clinicId, appointmentId)
                .filter(appointment -> appointment.patientId().isPresent())
                .flatMap(appointment -> proposed(appointment, visit).stream()
                        .filter(one -> one.ear() == ear && one.method() == method)
                        .findFirst()
                        .map(one -> cautions.record(
                                clinicId, appointment.patientId().orElseThrow(), one, Basis.FOUND, visit.date(), who)))
                .isPresent();
    }
}
