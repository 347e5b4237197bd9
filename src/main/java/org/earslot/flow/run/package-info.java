/** A list run through one room or two. */
@NullMarked
package org.earslot.flow.run;

import org.jspecify.annotations.NullMarked;
