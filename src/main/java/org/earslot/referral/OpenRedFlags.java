package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The red flag cases that wait for a clinician, by the person they are about, whichever referral they were raised by. */
@Service
public class OpenRedFlags {

    private final RedFlagCases cases;
    private final Practitioners practitioners;

    OpenRedFlags(RedFlagCases cases, Practitioners practitioners) {
        this.cases = cases;
        this.practitioners = practitioners;
    }

    /** The cases of a person that no clinician has settled; oldest first. */
    @Transactional(readOnly = true)
    public List<RedFlagCase> of(UUID clinicId, UUID patientId) {
        return cases.openOf(clinicId, patientId);
    }

    /** The name of the clinician a case goes to; empty until one is named. */
    @Transactional(readOnly = true)
    public Optional<String> clinician(RedFlagCase open) {
        return open.clinicianId()
                .flatMap(id -> practitioners.findByClinicIdAndId(open.clinicId(), id))
                .map(Practitioner::name);
    }
}
