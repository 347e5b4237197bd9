/** Practitioners, rooms, sessions, kit, policy and the clinic's clock. */
@ApplicationModule(allowedDependencies = {"ear", "page"})
@NullMarked
package org.earslot.clinic;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
