/** The trade's words as types. */
@ApplicationModule(allowedDependencies = {})
@NullMarked
package org.earslot.ear;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
