/** Pages of {@code kit}. */
@NamedInterface("web")
@NullMarked
package org.earslot.kit.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
