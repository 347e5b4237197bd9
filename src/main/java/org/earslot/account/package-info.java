/** People and programs that sign in, and the trail of what they did. */
@ApplicationModule(allowedDependencies = {"clinic", "clinic :: policy", "page"})
@NullMarked
package org.earslot.account;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
