/** The frame of every page, the wording and the form of every refusal, and the writer of CSV. */
@ApplicationModule(allowedDependencies = {"ear"})
@NullMarked
package org.earslot.page;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
