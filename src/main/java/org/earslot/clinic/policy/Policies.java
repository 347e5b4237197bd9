package org.earslot.clinic.policy;

import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** The policy of each clinic. */
public interface Policies extends JpaRepository<Policy, ClinicId> {}
