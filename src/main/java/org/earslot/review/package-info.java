/** The month read back: what ran over, why, and what to change. */
@ApplicationModule(allowedDependencies = {"diary", "visit", "estimate", "flow", "clinic", "minutes", "ear", "page"})
@NullMarked
package org.earslot.review;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
