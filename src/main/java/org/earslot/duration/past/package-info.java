/** Past visits as flat arrays, in their order. */
@NullMarked
package org.earslot.duration.past;

import org.jspecify.annotations.NullMarked;
