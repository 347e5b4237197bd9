package org.earslot.day;

import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicId;
import org.earslot.day.RedFlagNotice.State;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What is open about red flags, by appointment. */
@Service
public class RedFlagNotices {

    private final Appointments appointments;
    private final Referrals referrals;
    private final OpenRedFlags openRedFlags;
    private final RedFlagTriage triage;

    RedFlagNotices(Appointments appointments, Referrals referrals, OpenRedFlags openRedFlags, RedFlagTriage triage) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.openRedFlags = openRedFlags;
        this.triage = triage;
    }

    /** Those of these appointments that have something to say, by the appointment's id. */
    @Transactional(readOnly = true)
    public Map<UUID, RedFlagNotice> of(ClinicId clinicId, Collection<UUID> appointmentIds) {
        List<Appointment> asked = appointments.findByClinicIdAndIdIn(clinicId, appointmentIds);
        Map<UUID, Referral> byId = referrals
                .findByClinicIdAndIdIn(
                        clinicId,
                        asked.stream().flatMap(one -> one.referralId().stream()).toList())
                .stream()
                .collect(Collectors.toMap(Referral::id, Function.identity()));
        Map<UUID, RedFlagCase> openByPatient = openRedFlags.byPatient(clinicId);
        Map<UUID, Referral> notUnderstood =
                openRedFlags
                        .notUnderstood(
                                clinicId,
                                asked.stream()
                                        .flatMap(one -> one.patientId().stream())
                                        .toList())
                        .stream()
                        .collect(Collectors.toMap(Referral::patientId, Function.identity(), (oldest, other) -> oldest));
        Map<UUID, RedFlagNotice> notices = new HashMap<>();
        for (Appointment one : asked) {
            RedFlagCase open = one.patientId().map(openByPatient::get).orElse(null);
            Referral referral = one.referralId().map(byId::get).orElse(null);
            Referral unclear = one.patientId().map(notUnderstood::get).orElse(null);
            notice(one, referral, open, unclear).ifPresent(notice -> notices.put(one.id(), notice));
        }
        return notices;
    }

    /** What there is to say of one appointment. */
    @Transactional(readOnly = true)
    public Optional<RedFlagNotice> of(Appointment appointment) {
        return Optional.ofNullable(
                of(appointment.clinicId(), List.of(appointment.id())).get(appointment.id()));
    }

    private Optional<RedFlagNotice> notice(
            Appointment appointment,
            @Nullable Referral referral,
            @Nullable RedFlagCase open,
            @Nullable Referral unclear) {
        boolean ahead = appointment.status().toCome() || appointment.status().present();
        boolean inRoom =
                appointment.times().calledIn() != null && appointment.times().finished() == null;
        if (!ahead && !inRoom) {
            return Optional.empty();
        }
        if (open != null && (open.undecided() || unclear == null)) {
            return Optional.of(new RedFlagNotice(
                    open.undecided() ? State.OPEN : State.TO_BE_SEEN,
                    open.referralId(),
                    openRedFlags.clinician(open).orElse(null)));
        }
        if (unclear != null) {
            return Optional.of(new RedFlagNotice(State.OPEN, unclear.id(), null));
        }
        if (referral == null) {
            return appointment.isWaxWithoutReferral()
                    ? Optional.of(new RedFlagNotice(State.TO_ASK, null, null))
                    : Optional.empty();
        }
        if (!triage.stillToAsk(referral).isEmpty()) {
            return Optional.of(new RedFlagNotice(State.TO_ASK, referral.id(), null));
        }
        boolean here = appointment.times().arrived() != null || inRoom;
        return here && appointment.redFlagsAskedAt().isEmpty()
                ? Optional.of(new RedFlagNotice(State.NOT_ASKED_AT_ARRIVAL, referral.id(), null))
                : Optional.empty();
    }
}
