/** Lists that have run: replay and where waits came from. */
@NullMarked
package org.earslot.flow.past;

import org.jspecify.annotations.NullMarked;
