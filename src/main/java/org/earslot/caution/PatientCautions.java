package org.earslot.caution;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.caution.PatientCaution.Basis;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Caution;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.Word;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The cautions that belong to a patient, from referral to referral. What was once said or seen counts until it has
 * passed or a practitioner has corrected it, whatever is answered later.
 */
@Service
public class PatientCautions {

    private final PatientCautionRows rows;
    private final Practitioners practitioners;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    PatientCautions(
            PatientCautionRows rows, Practitioners practitioners, ClinicClock clock, ApplicationEventPublisher events) {
        this.rows = rows;
        this.practitioners = practitioners;
        this.clock = clock;
        this.events = events;
    }

    /**
     * Records a caution of a patient; one that is known already is confirmed, unless nobody was asked.
     *
     * @param asked the caution with its ear, method and the date of the last episode, as far as known
     * @param basis how it came to be known
     * @param on the clinic's day on which it was said or seen
     * @param by the sign-in name
     */
    @Transactional
    public PatientCaution record(
            ClinicId clinicId, UUID patientId, AskedCaution asked, Basis basis, LocalDate on, String by) {
        Optional<PatientCaution> known = everRecorded(clinicId, patientId).stream()
                .filter(one -> one.inForceOn(on) && one.covers(asked))
                .findFirst();
        if (known.isPresent()) {
            if (basis == Basis.IMPORTED) {
                known.get().hear(asked);
            } else {
                known.get().confirm(asked, on, by);
            }
            return known.get();
        }
        PatientCaution recorded = rows.save(new PatientCaution(clinicId, patientId, asked, basis, on, by));
        announce(recorded, clinicId, "caution-recorded", basis.code());
        return recorded;
    }

    /** The cautions in force on {@code date}, oldest first; one that another says as well is left out. */
    @Transactional(readOnly = true)
    public List<PatientCaution> inForce(ClinicId clinicId, UUID patientId, LocalDate date) {
        List<PatientCaution> inForce = new ArrayList<>();
        for (PatientCaution one : everRecorded(clinicId, patientId)) {
            if (one.inForceOn(date) && inForce.stream().noneMatch(earlier -> earlier.covers(one.asked()))) {
                inForce.removeIf(earlier -> one.covers(earlier.asked()));
                inForce.add(one);
            }
        }
        return inForce;
    }

    /** All that was ever recorded in codes that are known, oldest first: also what has passed or was corrected. */
    @Transactional(readOnly = true)
    public List<PatientCaution> everRecorded(ClinicId clinicId, UUID patientId) {
        return stored(clinicId, patientId).stream()
                .filter(PatientCaution::known)
                .toList();
    }

    /** What a practitioner has corrected or clarified, oldest first. */
    @Transactional(readOnly = true)
    public List<PatientCaution> corrected(ClinicId clinicId, UUID patientId) {
        return stored(clinicId, patientId).stream()
                .filter(PatientCaution::corrected)
                .toList();
    }

    private List<PatientCaution> stored(ClinicId clinicId, UUID patientId) {
        return rows.findByClinicIdAndPatientIdInOrderByRecordedOnAscIdAsc(clinicId, records(clinicId, patientId));
    }

    /**
     * What is known on {@code date}, today's answers beside earlier ones. What a referral says without anybody having been
     * asked is an earlier answer, to be confirmed.
     *
     * @param said by the referral; not asked if there is none, as with a fit-in
     */
    @Transactional(readOnly = true)
    public CautionSummary summary(ClinicId clinicId, UUID patientId, CautionAnswers said, LocalDate date) {
        List<PatientCaution> inForce = inForce(clinicId, patientId, date);
        List<AskedCaution> yes = said.yes().stream()
                .filter(one -> said.asked() || inForce.stream().noneMatch(known -> known.covers(one)))
                .toList();
        List<PatientCaution> open = inForce.stream()
                .filter(one -> yes.stream().noneMatch(one::confirmedBy))
                .toList();
        return new CautionSummary(
                said.asked(),
                yes,
                said.notKnown().stream().sorted().toList(),
                open.stream().filter(one -> !contradicts(said, one)).toList(),
                open.stream().filter(one -> contradicts(said, one)).toList(),
                unknown(clinicId, patientId, said.unknown()));
    }

    /**
     * The codes of cautions that this release does not know and that nobody has clarified: on record of the patient, on
     * one of the referrals, or among {@code said}.
     */
    private List<UnknownCode> unknown(ClinicId clinicId, UUID patientId, List<UnknownCode> said) {
        List<PatientCaution> stored =
                stored(clinicId, patientId).stream().filter(one -> !one.known()).toList();
        Set<UnknownCode> open = stored.stream()
                .filter(one -> !one.corrected())
                .map(PatientCaution::code)
                .collect(Collectors.toCollection(LinkedHashSet::new));
        Set<UnknownCode> clarified = stored.stream()
                .filter(PatientCaution::corrected)
                .map(PatientCaution::code)
                .collect(Collectors.toSet());
        Stream.concat(
                        rows
                                .unknownOnReferrals(
                                        clinicId, records(clinicId, patientId), Word.codes(Caution.values()))
                                .stream()
                                .map(UnknownCode::new),
                        said.stream())
                .filter(code -> !clarified.contains(code))
                .forEach(open::add);
        return List.copyOf(open);
    }

    /**
     * A practitioner has clarified with the patient what the unknown codes on record mean; what they turned out to be is
     * recorded as any other caution. They are not shown again, unless one is recorded again.
     *
     * @param said by the referral in view; not asked if there is none
     * @return why nothing was clarified; empty if it is done
     */
    @Transactional
    public Optional<CautionRefusal> clarify(
            ClinicId clinicId, UUID patientId, CautionAnswers said, UUID practitionerId, String reason, String who) {
        List<UnknownCode> open = unknown(clinicId, patientId, said.unknown());
        if (open.isEmpty()) {
            return Optional.of(CautionRefusal.NO_SUCH_CAUTION);
        }
        if (!practises(clinicId, practitionerId)) {
            return Optional.of(CautionRefusal.NO_PRACTITIONER);
        }
        List<PatientCaution> stored = stored(clinicId, patientId);
        for (UnknownCode code : open) {
            List<PatientCaution> recorded = stored.stream()
                    .filter(one -> one.code().equals(code) && !one.corrected())
                    .toList();
            List<PatientCaution> unclear = recorded.isEmpty()
                    ? List.of(rows.save(new PatientCaution(
                            clinicId, patientId, code.code(), Basis.IMPORTED, clock.today(clinicId), who)))
                    : recorded;
            unclear.forEach(one -> one.correct(practitionerId, reason, who, clock.now()));
            announce(unclear.get(0), clinicId, "caution-clarified", reason);
        }
        return Optional.empty();
    }

    private boolean practises(ClinicId clinicId, UUID practitionerId) {
        return practitioners
                .findByClinicIdAndId(clinicId, practitionerId)
                .filter(Practitioner::active)
                .isPresent();
    }

    private static boolean contradicts(CautionAnswers said, PatientCaution earlier) {
        return said.asked() && !said.notKnown().contains(earlier.caution());
    }

    /**
     * A practitioner says that a caution was wrong.
     *
     * @return why it was not corrected; empty where it is done
     */
    @Transactional
    public Optional<CautionRefusal> correct(
            ClinicId clinicId, UUID patientId, UUID cautionId, UUID practitionerId, String reason, String who) {
        Set<UUID> records = records(clinicId, patientId);
        Optional<PatientCaution> found = rows.findByClinicIdAndId(clinicId, cautionId)
                .filter(one -> records.contains(one.patientId()) && one.known() && !one.corrected());
        if (found.isEmpty()) {
            return Optional.of(CautionRefusal.NO_SUCH_CAUTION);
        }
        if (!practises(clinicId, practitionerId)) {
            return Optional.of(CautionRefusal.NO_PRACTITIONER);
        }
        PatientCaution wrong = found.get();
        everRecorded(clinicId, patientId).stream()
                .filter(one -> !one.corrected() && wrong.covers(one.asked()))
                .forEach(one -> one.correct(practitionerId, reason, who, clock.now()));
        announce(wrong, clinicId, "caution-corrected", reason);
        return Optional.empty();
    }

    /** The patient's own record and all second records of the same person. */
    private Set<UUID> records(ClinicId clinicId, UUID patientId) {
        Set<UUID> records = new LinkedHashSet<>(List.of(patientId));
        Collection<UUID> added = List.of(patientId);
        while (!added.isEmpty()) {
            added = rows.mergedInto(clinicId, added).stream()
                    .filter(records::add)
                    .toList();
        }
        return records;
    }

    private void announce(PatientCaution about, ClinicId clinicId, String action, String detail) {
        String ear = about.ear() == null ? "" : " " + about.ear().code();
        events.publishEvent(new Audited.Entry(
                clinicId,
                action,
                "patient",
                about.patientId().toString(),
                about.code().shown() + ear + ": " + detail));
    }
}
