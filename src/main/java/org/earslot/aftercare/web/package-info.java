/** Pages of {@code aftercare}. */
@NamedInterface("web")
@NullMarked
package org.earslot.aftercare.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
