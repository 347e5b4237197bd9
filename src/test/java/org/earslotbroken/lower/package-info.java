/** A lower room that may know nobody. */
@ApplicationModule(allowedDependencies = {})
package org.earslotbroken.lower;

import org.springframework.modulith.ApplicationModule;
