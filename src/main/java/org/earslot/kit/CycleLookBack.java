package org.earslot.kit;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.kit.InstrumentKind;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.InstrumentSet;
import org.earslot.clinic.kit.InstrumentSets;
import org.earslot.clinic.kit.SetCycle;
import org.earslot.clinic.kit.SetCycles;
import org.earslot.clinic.kit.SetUse;
import org.earslot.clinic.kit.SetUses;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.jspecify.annotations.Nullable;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Looks back from a sterilisation cycle to the sets that were in it and to the patients treated with them. */
@Service
public class CycleLookBack {

    private static final Limit LATEST = Limit.of(200);

    private final SetCycles cycles;
    private final SetUses uses;
    private final InstrumentSets sets;
    private final InstrumentKinds kinds;
    private final Appointments appointments;
    private final Patients patients;

    CycleLookBack(
            SetCycles cycles,
            SetUses uses,
            InstrumentSets sets,
            InstrumentKinds kinds,
            Appointments appointments,
            Patients patients) {
        this.cycles = cycles;
        this.uses = uses;
        this.sets = sets;
        this.kinds = kinds;
        this.appointments = appointments;
        this.patients = patients;
    }

    /**
     * A set that was in a cycle.
     *
     * @param passed null while the cycle runs
     */
    public record SetInCycle(
            String kind,
            int number,
            Instant startedAt,
            @Nullable Boolean passed) {}

    /**
     * Who was treated with a set of the cycle.
     *
     * @param patient null for an appointment without a record of the patient
     */
    public record Treated(
            UUID appointmentId, LocalDate date, @Nullable Patient patient, String kind, int number) {}

    /** What a cycle's number leads to. */
    public record Found(List<SetInCycle> sets, List<Treated> treated) {}

    /** The numbers of the latest cycles, the latest first, each once. */
    @Transactional(readOnly = true)
    public List<String> latest(ClinicId clinicId) {
        return cycles.findByClinicIdOrderByStartedAtDesc(clinicId, LATEST).stream()
                .map(SetCycle::cycleNumber)
                .distinct()
                .toList();
    }

    /** The sets of the cycle with that number, and who was treated with them after it. */
    @Transactional(readOnly = true)
    public Found of(ClinicId clinicId, String cycleNumber) {
        Map<UUID, InstrumentSet> known = sets.findByClinicIdOrderByNumber(clinicId).stream()
                .collect(Collectors.toMap(InstrumentSet::id, Function.identity()));
        Map<UUID, String> names = kinds.findByClinicIdOrderByName(clinicId).stream()
                .collect(Collectors.toMap(InstrumentKind::id, InstrumentKind::name));
        List<SetInCycle> inCycle = cycles.findByClinicIdAndCycleNumberOrderByStartedAt(clinicId, cycleNumber).stream()
                .map(cycle -> {
                    InstrumentSet set = known.get(cycle.setId());
                    return new SetInCycle(
                            names.get(set.kindId()),
                            set.number(),
                            cycle.startedAt(),
                            cycle.passed().orElse(null));
                })
                .toList();
        List<Treated> treated = uses.findByClinicIdAndCycleNumberOrderByAt(clinicId, cycleNumber).stream()
                .flatMap(use -> treated(clinicId, use, known.get(use.setId()), names))
                .toList();
        return new Found(inCycle, treated);
    }

    private Stream<Treated> treated(ClinicId clinicId, SetUse use, InstrumentSet set, Map<UUID, String> names) {
        Optional<Appointment> appointment = appointments.findByClinicIdAndId(clinicId, use.appointmentId());
        return appointment.stream()
                .map(one -> new Treated(
                        one.id(),
                        one.place().date(),
                        one.patientId()
                                .flatMap(id -> patients.findByClinicIdAndId(clinicId, id))
                                .orElse(null),
                        names.get(set.kindId()),
                        set.number()));
    }
}
