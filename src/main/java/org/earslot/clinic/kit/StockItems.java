package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The single-use stock of each clinic. */
public interface StockItems extends JpaRepository<StockItem, UUID> {

    List<StockItem> findByClinicIdOrderByName(ClinicId clinicId);

    Optional<StockItem> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<StockItem> findByClinicIdAndName(ClinicId clinicId, String name);
}
