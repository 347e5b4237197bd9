package org.earslot.aftercare;

import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** Each clinic's own letters. */
interface LetterTexts extends JpaRepository<LetterText, UUID> {

    Optional<LetterText> findByClinicIdAndKind(UUID clinicId, String kind);
}
