/** A clinic's own patterns: who comes, how early or late, the usual visit. */
@NamedInterface("habits")
@NullMarked
package org.earslot.estimate.habits;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
