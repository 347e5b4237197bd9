/** The frame of every page and the form of every refusal. */
@ApplicationModule(allowedDependencies = {})
@NullMarked
package org.earslot.page;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
