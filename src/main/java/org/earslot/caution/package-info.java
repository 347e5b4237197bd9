/** Cautions, and which methods they allow, with sources and sign-off. */
@ApplicationModule(allowedDependencies = {"clinic", "ear", "page"})
@NullMarked
package org.earslot.caution;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
