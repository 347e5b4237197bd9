/** Lists to come: costs, start times, places left open, offers in turn. */
@NullMarked
package org.earslot.flow.plan;

import org.jspecify.annotations.NullMarked;
