package org.earslot.daysheet;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** Which clinics have tray rules of their own. */
interface TrayPolicies extends JpaRepository<TrayPolicy, UUID> {}
