/** Distributions of minutes on a lattice, mixed and summed. */
@NullMarked
package org.earslot.flow.chance;

import org.jspecify.annotations.NullMarked;
