package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The rooms of each clinic. */
public interface Rooms extends JpaRepository<Room, UUID> {

    List<Room> findByClinicIdOrderByName(ClinicId clinicId);

    Optional<Room> findByClinicIdAndId(ClinicId clinicId, UUID id);

    Optional<Room> findByClinicIdAndName(ClinicId clinicId, String name);
}
