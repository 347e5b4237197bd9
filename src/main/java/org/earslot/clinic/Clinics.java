package org.earslot.clinic;

import org.springframework.data.jpa.repository.JpaRepository;

/** All clinics of this installation. */
public interface Clinics extends JpaRepository<Clinic, ClinicId> {

    /** Whether there is a clinic that is the demo's, or one that is not. */
    boolean existsByDemo(boolean demo);
}
