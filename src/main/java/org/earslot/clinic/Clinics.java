package org.earslot.clinic;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All clinics of this installation. */
public interface Clinics extends JpaRepository<Clinic, UUID> {

    /** Whether there is a clinic that is the demo's, or one that is not. */
    boolean existsByDemo(boolean demo);
}
