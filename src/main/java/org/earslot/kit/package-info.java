/** Whether instruments, sterilisation cycles and portable equipment suffice for a day. */
@ApplicationModule(allowedDependencies = {"booking", "clinic", "clinic :: kit", "ear", "page", "patient"})
@NullMarked
package org.earslot.kit;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
