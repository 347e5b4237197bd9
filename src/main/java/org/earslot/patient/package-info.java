/** Records of people: details, likeness, merging, letters to them. */
@ApplicationModule(allowedDependencies = {"clinic", "ear", "page"})
@NullMarked
package org.earslot.patient;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
