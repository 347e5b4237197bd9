package org.earslot.daysheet;

import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;

/** Which clinics have tray rules of their own. */
interface TrayPolicies extends JpaRepository<TrayPolicy, ClinicId> {}
