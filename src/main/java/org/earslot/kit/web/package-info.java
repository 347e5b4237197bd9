/** The page that looks back on cycles, the set-up of the kit, and the words of kit. */
@NamedInterface("web")
@NullMarked
package org.earslot.kit.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
