package org.earslot.clinic.policy;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The policy of each clinic. */
public interface Policies extends JpaRepository<Policy, UUID> {}
