/** A list as it stands: places, breaks, arrivals, stages. */
@NullMarked
package org.earslot.flow.list;

import org.jspecify.annotations.NullMarked;
