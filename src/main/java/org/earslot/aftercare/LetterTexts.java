package org.earslot.aftercare;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** Each clinic's own letters. */
interface LetterTexts extends JpaRepository<LetterText, UUID> {

    Optional<LetterText> findByClinicIdAndKind(ClinicId clinicId, String kind);
}
