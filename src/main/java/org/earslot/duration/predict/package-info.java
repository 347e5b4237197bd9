/** From what a fit has found to a forecast and its reasons. */
@NullMarked
package org.earslot.duration.predict;

import org.jspecify.annotations.NullMarked;
