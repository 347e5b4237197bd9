package org.earslot.caution;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** How often each clinic's table was changed. */
interface CautionTableVersions extends JpaRepository<CautionChanges, UUID> {}
