package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The single-use stock of each clinic. */
public interface StockItems extends JpaRepository<StockItem, UUID> {

    List<StockItem> findByClinicIdOrderByName(UUID clinicId);

    Optional<StockItem> findByClinicIdAndId(UUID clinicId, UUID id);

    Optional<StockItem> findByClinicIdAndName(UUID clinicId, String name);
}
